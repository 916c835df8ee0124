import { existsSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import Database from "better-sqlite3";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { BenchUnopenable } from "#main/store/bench-file/bench-unopenable.ts";
import { type OpenBench, openBench } from "#main/store/bench-file/open.ts";
import { driverOf } from "#main/store/connection.ts";
import { ALL_MIGRATIONS } from "#main/store/migrations/all-migrations.ts";
import { fixedClock } from "../../../support/fixed-clock.ts";
import { withRawDatabase } from "../../../support/raw-database.ts";
import { type TempFolder, tempFolder } from "../../../support/temp-bench.ts";

let folder: TempFolder;
let file: string;
const clock = fixedClock();

beforeEach(() => {
  folder = tempFolder();
  file = folder.paths.databaseFile;
});
afterEach(() => folder.remove());

const open = (): Promise<OpenBench> => openBench({ paths: folder.paths, clock, host: "test" });

async function whyNot(): Promise<BenchUnopenable> {
  const trouble = await open().then(
    (bench) => {
      bench.close();
      return null;
    },
    (error: unknown) => error,
  );
  if (!(trouble instanceof BenchUnopenable)) throw new Error(`opened, or failed with ${String(trouble)}`);
  return trouble;
}

async function makeBench(): Promise<void> {
  const bench = await open();
  bench.close();
}

describe("an open bench", () => {
  it("writes through to disk with every commit, also when a file in WAL mode is opened again", async () => {
    for (let time = 0; time < 2; time += 1) {
      const bench = await open();
      const driver = driverOf(bench.db);
      expect(driver.pragma("synchronous", { simple: true })).toBe(2);
      expect(driver.pragma("journal_mode", { simple: true })).toBe("wal");
      expect(driver.pragma("foreign_keys", { simple: true })).toBe(1);
      expect(driver.pragma("trusted_schema", { simple: true })).toBe(0);
      expect(driver.pragma("recursive_triggers", { simple: true })).toBe(1);
      bench.close();
    }
  });

  it("carries its mark in the main file before anything else, so that a crash cannot leave it unmarked", async () => {
    const bench = await open();
    expect(readFileSync(file).readUInt32BE(68)).toBe(0x4c696e66);
    bench.close();
  });

  it("lends a snapshot that does not see later writes and cannot write", async () => {
    const bench = await open();
    const snapshot = bench.snapshot();
    driverOf(bench.db).exec("INSERT INTO bench_setting VALUES ('a', 'b')");
    const count = "SELECT count(*) FROM bench_setting";
    expect(driverOf(snapshot.db).prepare(count).pluck().get()).toBe(0);
    expect(() => driverOf(snapshot.db).exec("DELETE FROM bench_setting")).toThrow("readonly");
    snapshot.close();
    bench.close();
  });
});

describe("one bench, one program", () => {
  it("is refused to a second program, with who has it, and free again after closing", async () => {
    const bench = await open();
    const trouble = await whyNot();
    expect(trouble.code).toBe("bench.locked");
    expect(trouble.message).toContain(`process number ${process.pid}`);
    bench.close();
    await makeBench();
  });

  it("is not held by what an earlier program left behind when it was killed", async () => {
    await makeBench();
    writeFileSync(`${file}.holder`, JSON.stringify({ pid: 1, computer: "x", host: "electron", since: "y" }));
    await makeBench();
  });

  it("is refused while another tool holds the file exclusively", async () => {
    await makeBench();
    const other = new Database(file);
    other.pragma("locking_mode = EXCLUSIVE");
    other.exec("BEGIN EXCLUSIVE");
    expect((await whyNot()).code).toBe("bench.locked");
    other.close();
  }, 20_000);
});

describe("a file that is not to be opened is told apart and left as it is", () => {
  async function expectRefused(code: string, words: string): Promise<BenchUnopenable> {
    const before = existsSync(file) ? readFileSync(file) : null;
    const trouble = await whyNot();
    expect(trouble.code).toBe(code);
    expect(trouble.message).toContain(words);
    expect(trouble.hint).not.toBe("");
    expect(existsSync(file) ? readFileSync(file) : null).toEqual(before);
    return trouble;
  }

  it("an empty file where no bench was known begins a new one", async () => {
    writeFileSync(file, "");
    await makeBench();
  });

  it("an empty file where a bench was known is a loss", async () => {
    await makeBench();
    writeFileSync(file, "");
    const trouble = await expectRefused("bench.missing", "empty (0 bytes)");
    expect(trouble.offers.map((offer) => offer.kind)).toEqual(["start-empty"]);
  });

  it("no file where a bench was known is a loss, not a beginning", async () => {
    await makeBench();
    rmSync(file);
    await expectRefused("bench.missing", "gone");
  });

  it("a text file", async () => {
    writeFileSync(file, "Dear diary, ".repeat(100));
    expect((await expectRefused("bench.foreign", "not a database")).offers).toEqual([]);
  });

  it("a database of another program", async () => {
    withNewDatabase("CREATE TABLE t (a); INSERT INTO t VALUES (1)");
    await expectRefused("bench.foreign", "another program");
    expect(readdirSync(folder.paths.dataFolder)).not.toContain("bench.sqlite-wal");
  });

  it("a bench of a newer version of the program", async () => {
    await makeBench();
    withRawDatabase(file, (database) => database.pragma("user_version = 990"));
    await expectRefused(
      "bench.newer",
      `file version 990; this program knows up to ${ALL_MIGRATIONS.at(-1)?.version}`,
    );
  });

  it("a bench whose first bytes were overwritten", async () => {
    await makeBench();
    const bytes = readFileSync(file);
    bytes.fill(0x5a, 0, 200);
    writeFileSync(file, bytes);
    await expectRefused("bench.damaged", "does not begin as a database does");
  });

  it("a bench cut off in the middle", async () => {
    await makeBench();
    truncateSync(file, Math.floor(readFileSync(file).length / 2));
    await expectRefused("bench.damaged", "");
  });

  it("a bench with pages overwritten in the middle", async () => {
    await makeBench();
    const bytes = readFileSync(file);
    bytes.fill(0xa5, 4096 * 3, 4096 * 6);
    writeFileSync(file, bytes);
    await expectRefused("bench.damaged", "");
  });

  it("a bench with a reference that points nowhere", async () => {
    await makeBench();
    withRawDatabase(file, (database) => {
      database.pragma("foreign_keys = OFF");
      database.exec("INSERT INTO intermediate_magnification VALUES ('none', 1, '1')");
    });
    await expectRefused(
      "bench.damaged",
      "a row of intermediate_magnification points to a missing row of microscope",
    );
  });

  function withNewDatabase(sql: string): void {
    const database = new Database(file);
    database.pragma("journal_mode = WAL");
    database.exec(sql);
    database.close();
  }
});

describe("a folder that cannot be written", () => {
  it("is refused when there is a file in its place", async () => {
    writeFileSync(`${folder.paths.dataFolder}/not-a-folder`, "");
    const paths = { ...folder.paths, dataFolder: `${folder.paths.dataFolder}/not-a-folder` };
    await expect(openBench({ paths, clock, host: "test" })).rejects.toMatchObject({
      code: "bench.read-only",
    });
  });
});
