import { createHash } from "node:crypto";
import { existsSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { listBackups } from "#main/store/bench-file/backup-list.ts";
import { requireOrder, schemaStateOf } from "#main/store/bench-file/migrate.ts";
import { openBench } from "#main/store/bench-file/open.ts";
import { driverOf } from "#main/store/connection.ts";
import { ALL_MIGRATIONS } from "#main/store/migrations/all-migrations.ts";
import type { Migration } from "#main/store/migrations/migration.ts";
import { fixedClock } from "../../../support/fixed-clock.ts";
import { withRawDatabase } from "../../../support/raw-database.ts";
import { type TempFolder, tempFolder } from "../../../support/temp-bench.ts";

/** A planted history, so that the machinery is tested before the program has a second step of its own. */
const FIRST: Migration = {
  version: 10,
  name: "first",
  sql: `CREATE TABLE maker (id TEXT PRIMARY KEY) STRICT;
    CREATE TABLE part (id TEXT PRIMARY KEY, size TEXT, maker_id TEXT REFERENCES maker (id)) STRICT;`,
};
const SECOND: Migration = {
  version: 20,
  name: "sizes in a table of their own",
  rebuildsTables: true,
  sql: `CREATE TABLE part_new (id TEXT PRIMARY KEY, size_um TEXT NOT NULL, maker_id TEXT REFERENCES maker (id)) STRICT;
    INSERT INTO part_new SELECT id, coalesce(size, '0'), maker_id FROM part;
    DROP TABLE part;
    ALTER TABLE part_new RENAME TO part;`,
};
/**
 * Every step, as benches in use have run it. A released step is never edited, so a hash that differs names a step to put
 * back as it was; a new step joins with its own.
 */
const RELEASED: Readonly<Record<number, string>> = {
  10: "b7d4a38dd811771948aba0c95b41537ab432bfd7cb2b7490471c2d3aa62ecc1d",
  20: "870b144cac025e806a94cf035db90f17cb402900701eb38aeff0d78cf92d3106",
  30: "b4794939ae3ed197543fe2d7a430cf78a895c09d4ab7ef6f884ff4f2a75ead8c",
  40: "8677b75c4c78b23d7d062c896d72199ddb1476eefc3edc5c88eede63c46357d4",
  50: "18acd4ecac467ee5a4170ff1329d7a2023bf9d5a0f92c8b4eb214d589bf8eb3c",
  60: "edb28937222cd39dd021fec7e9e237b9f0fbe8f2de727ad8a9077c3453bda366",
  70: "1f7e8e3ea5ab0a038b6637ef839fdcc9ad1f5ba82a0a568b681c7891710b47c2",
  80: "e2fd91f25604385a323d755a342f4e21d242b1bbcfe1347fcdf0b8f580b809d1",
  90: "bc642445cf3743441a034bb9a75c623f74c7003b26fb779a17574d06cb8b0679",
  100: "8b7ec42f076cafa49142f53d710b748b85173f3089fa702cb19c6ca3470c971a",
  110: "85175ba252d378c60f69903902f3664674f54f307ed7f9893bce718f10f6fd49",
  130: "0f55dff8e33cf1b815375c6613b100e0d38e2531e07ace903c91a74aae3bea72",
  140: "a3e550bc25fcd301b303dbaad81cee181965c650ce6ce93d782db8ef66e3ec45",
  170: "131d9085186b0c0dfadd183592a4a5fff8b731a36223d656e52e22602122a80b",
  180: "155fc871bee76d9b28221adfa4cdd641f4ba5188cb81f8fd561e9ea0ef1f0182",
  230: "db98bee487230336ff6ac3e4a00236dea4879ec4bb90f46289856fa0dc08feb6",
  240: "ba981e443dd2950f93ea2f8c39183648fd9a99ece6a84ebb3410d3c674315d30",
  250: "6454e716b50080eb83c13709ae7c914824a15b63722dcc2d8e0dafb2317a8907",
  260: "ba402c44c623343343fcd2f6dce2d955e4bdecea4f3fb4fba2869396956fe6ad",
  270: "5fd3c460715224ea02b5aaf6fc49449bef20f9d86c2195fbf87cafc893ff69d1",
  280: "492c7a46247a7a590d4cfaaa8e31cf0354dffbe27ff6da8bba4963c6624723df",
  290: "e5b7b2335c0fc83061b791accce0a24436c2f82d69bea527dcfb9fb5e87b22be",
  330: "01b44054a6f6434c83581f7c939045839842fa8caa56eac643bce23b55d30707",
  340: "389288da3b689cb244628644ce2777c0a509f4f5d6752b394cd2dd48508a00e2",
  360: "49ed7d4650214a763e2e9c7e994f956c833761cfb548899fe243fe09b84d234d",
  370: "c47544fea5b88f64b0153575fb5ddbf65133ecc6c85dd91c40b9583abb92c5ed",
  390: "062175de48e28e8b334c2c212328e1737be52883796e010f1d4b82e7370f0996",
  400: "bb446444e1ec698d220cba957fad7924731d3c1dac87ef8b6e8240efa30a6422",
  410: "988e7496cefe970d23dcade70f17e849e03f89a3052ced1f1503089bb752ae40",
  450: "9a662e01840a29d72ce81fff306cfc167194e3072fac945445e1e18cb429a2bc",
  460: "92f6f7e490f56387543ab7eb68c1a3efdb6d502c347563b892b2c3793180b8ab",
  470: "984cfb08c47519de6eef6997805de916f134846c5b613bd5beb8ebb84fb9cf07",
};

const THIRD: Migration = { version: 30, name: "a note", sql: "ALTER TABLE part ADD COLUMN note TEXT" };

let folder: TempFolder;
beforeEach(() => {
  folder = tempFolder();
});
afterEach(() => folder.remove());

const open = (migrations: readonly Migration[]) =>
  openBench({ paths: folder.paths, clock: fixedClock(), host: "test", migrations });

/** A bench as the first version of the planted history left it, with parts in it. */
async function oldBench(): Promise<void> {
  const bench = await open([FIRST]);
  driverOf(bench.db).exec(
    "INSERT INTO maker VALUES ('m'); INSERT INTO part VALUES ('a', '1.50', 'm'), ('b', NULL, NULL)",
  );
  bench.close();
}

describe("the list", () => {
  it.each([
    ["has a step between two tens", [FIRST, { ...THIRD, version: 25 }]],
    ["is out of order", [SECOND, FIRST]],
    ["holds a step twice", [FIRST, FIRST]],
  ])("is refused when it %s", (_, list) => {
    expect(() => requireOrder(list)).toThrow("the list is out of order");
  });

  it("says where a file stands", () => {
    const list = [FIRST, SECOND, THIRD];
    expect(schemaStateOf(0, list)).toEqual({ kind: "behind", pending: list });
    expect(schemaStateOf(10, list)).toEqual({ kind: "behind", pending: [SECOND, THIRD] });
    expect(schemaStateOf(30, list)).toEqual({ kind: "current" });
    expect(schemaStateOf(40, list)).toEqual({ kind: "newer", found: 40, known: 30 });
    expect(schemaStateOf(15, list)).toEqual({ kind: "newer", found: 15, known: 30 });
  });

  it("is in order, and every step is as it was released", () => {
    requireOrder(ALL_MIGRATIONS);
    const hashes = ALL_MIGRATIONS.map(({ version, sql, afterwards = "" }) => [
      version,
      createHash("sha256")
        .update(sql + afterwards, "utf8")
        .digest("hex"),
    ]);
    expect(Object.fromEntries(hashes)).toEqual(RELEASED);
  });
});

describe("a bench of an older version", () => {
  it("is backed up, brought up to date step by step and keeps its rows", async () => {
    await oldBench();
    const bench = await open([FIRST, SECOND, THIRD]);
    const driver = driverOf(bench.db);
    expect(driver.prepare("SELECT * FROM part ORDER BY id").all()).toEqual([
      { id: "a", size_um: "1.50", maker_id: "m", note: null },
      { id: "b", size_um: "0", maker_id: null, note: null },
    ]);
    expect(driver.pragma("user_version", { simple: true })).toBe(30);
    expect(driver.pragma("foreign_keys", { simple: true })).toBe(1);
    const [copy] = listBackups(folder.paths.backupFolder);
    expect(copy?.why).toBe("before migration");
    expect(bench.notices).toEqual([expect.stringContaining(String(copy?.fileName))]);
    bench.close();
    const old = new Database(join(folder.paths.backupFolder, String(copy?.fileName)), { readonly: true });
    expect(old.pragma("user_version", { simple: true })).toBe(10);
    expect(old.prepare("SELECT size FROM part ORDER BY id").pluck().all()).toEqual(["1.50", null]);
    old.close();
    expect(existsSync(join(folder.paths.backupFolder, `${copy?.fileName}-wal`))).toBe(false);
  });

  it.each([
    ["does not run", "CREATE TABLE gadget (id TEXT) STRICT; INSERT INTO nowhere VALUES (1)"],
    ["leaves a reference to nowhere", "CREATE TABLE gadget (id TEXT) STRICT; DELETE FROM maker"],
  ])("stays as it was when a step %s", async (_, sql) => {
    await oldBench();
    const broken: Migration = { version: 20, name: "broken", sql, rebuildsTables: true };
    await expect(open([FIRST, broken])).rejects.toMatchObject({ code: "bench.migration-failed" });
    const bench = await open([FIRST]);
    const driver = driverOf(bench.db);
    expect(driver.prepare("SELECT count(*) FROM part").pluck().get()).toBe(2);
    expect(driver.prepare("SELECT count(*) FROM maker").pluck().get()).toBe(1);
    expect(driver.prepare("SELECT count(*) FROM sqlite_schema WHERE name = 'gadget'").pluck().get()).toBe(0);
    bench.close();
  });

  it("is written once, as a whole: its own file and its -wal do not grow meanwhile, and how far it is is told", async () => {
    await oldBench();
    withRawDatabase(folder.paths.databaseFile, (db) => {
      const insert = db.prepare("INSERT INTO part VALUES (?, '1', 'm')");
      db.transaction(() => {
        for (let part = 0; part < 20_000; part += 1) insert.run(`part ${part}`);
      })();
    });
    const before = statSync(folder.paths.databaseFile).size;
    const walFile = `${folder.paths.databaseFile}-wal`;
    let wal = 0;
    const told: string[] = [];
    const slow: Migration = {
      version: 40,
      name: "parts told one by one",
      sql: "CREATE TABLE part_new AS SELECT * FROM part",
      rewrite(database, tell) {
        for (const done of [1, 2, 3]) {
          database.exec("UPDATE part_new SET note = coalesce(note, '') || 'again and again and again'");
          wal = Math.max(wal, statSync(walFile).size);
          tell(done, 3);
        }
      },
      afterwards: "DROP TABLE part; ALTER TABLE part_new RENAME TO part",
    };
    const bench = await openBench({
      paths: folder.paths,
      clock: fixedClock(),
      host: "test",
      migrations: [FIRST, SECOND, THIRD, slow],
      opening: ({ part, done, parts }) => told.push(`${part} ${done}/${parts}`),
    });
    expect(wal).toBeLessThan(before / 10);
    expect(driverOf(bench.db).prepare("SELECT count(*) FROM part").pluck().get()).toBe(20_002);
    expect(driverOf(bench.db).pragma("journal_mode", { simple: true })).toBe("wal");
    bench.close();
    expect(told.join("\n")).toMatch(
      /looking at every page[\s\S]*the backup: copying[\s\S]*bringing it up to date: parts told one by one 0\/0[\s\S]*one by one 2\/3/,
    );
    const files = readdirSync(folder.paths.dataFolder).filter((name) =>
      /partial|restoring|before-|swap/.test(name),
    );
    expect(files).toEqual([]);
  });

  it("is refused by an older program", async () => {
    const bench = await open([FIRST, SECOND]);
    bench.close();
    await expect(open([FIRST])).rejects.toMatchObject({ code: "bench.newer" });
  });
});
