import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { assemble, recoverBench } from "#main/assemble.ts";
import type { BenchPaths } from "#main/ports/paths.ts";
import type { Program, ProgramOptions } from "#main/program.ts";
import { BenchUnopenable } from "#main/store/bench-file/bench-unopenable.ts";
import { buildScene, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { countedIds, fixedClock } from "../../../support/fixed-clock.ts";
import { withRawDatabase } from "../../../support/raw-database.ts";
import { type TempBench, type TempFolder, tempBench, tempFolder } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
let elsewhere: TempFolder;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  elsewhere = tempFolder();
});
afterEach(async () => {
  await bench.end();
  elsewhere.remove();
});

const optionsOf = (paths: BenchPaths): ProgramOptions => ({
  paths,
  clock: fixedClock("2026-03-02T18:00:00.000Z"),
  ids: countedIds("later"),
  host: "loopback",
  programVersion: "0.0.0-test",
});

/** What a kill leaves, laid into another folder. */
function crashed(
  from: BenchPaths,
  to: BenchPaths,
  ends = ["", "-wal", "-shm", ".known", ".holder", ".wal-known"],
): void {
  mkdirSync(to.dataFolder, { recursive: true });
  for (const end of ends) {
    if (existsSync(from.databaseFile + end)) copyFileSync(from.databaseFile + end, to.databaseFile + end);
  }
}

async function rowsOf(program: Program): Promise<number> {
  const page = await program.dispatch("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 });
  return page.ok ? (page.value as { total: number }).total : -1;
}

async function refused(paths: BenchPaths): Promise<BenchUnopenable> {
  const before = ["", "-wal"].map((end) => readFileSync(paths.databaseFile + end));
  const outcome = await assemble(optionsOf(paths)).catch((error: unknown) => error);
  if (!(outcome instanceof BenchUnopenable)) {
    const rows = await rowsOf(outcome as Program);
    await (outcome as Program).close();
    throw new Error(`it was opened, with ${rows} rows`);
  }
  expect(outcome.code).toBe("bench.foreign-wal");
  expect(["", "-wal"].map((end) => readFileSync(paths.databaseFile + end))).toEqual(before);
  expect(existsSync(`${paths.databaseFile}.alone`)).toBe(false);
  return outcome;
}

async function openedWithout(paths: BenchPaths, trouble: BenchUnopenable): Promise<number> {
  const offer = trouble.offers.find(({ kind }) => kind === "set-wal-aside");
  if (!offer) throw new Error("not offered");
  await recoverBench(optionsOf(paths), offer);
  const program = await assemble(optionsOf(paths));
  const rows = await rowsOf(program);
  expect(await program.dispatch("trail.verify", {})).toMatchObject({ ok: true, value: { differences: [] } });
  await program.close();
  return rows;
}

async function enterRows(from: number, to: number): Promise<void> {
  for (let row = from; row <= to; row += 1) await enterLength(bench, scene, `row-${row}`, "40", "60");
}

describe("a -wal file that is the bench's own", () => {
  it.each([1, 3, 10, 40])("is taken after a kill at any time: %i rows", async (rows) => {
    await enterRows(1, rows);
    crashed(bench.paths, elsewhere.paths);
    const program = await assemble(optionsOf(elsewhere.paths));
    expect(program.notices).toEqual([]);
    expect(await rowsOf(program)).toBe(rows);
    await program.close();
  });

  it("is taken after SQLite has begun it anew, again and again", async () => {
    for (let round = 1; round <= 3; round += 1) {
      await enterRows(round * 5 - 4, round * 5);
      withRawDatabase(bench.paths.databaseFile, (database) => database.pragma("wal_checkpoint(RESTART)"));
      await enterRows(100 + round, 100 + round);
    }
    crashed(bench.paths, elsewhere.paths);
    const program = await assemble(optionsOf(elsewhere.paths));
    expect(await rowsOf(program)).toBe(18);
    await program.close();
  });

  it("is taken from a program that wrote no mark down", async () => {
    await enterRows(1, 5);
    crashed(bench.paths, elsewhere.paths, ["", "-wal", "-shm", ".known", ".holder"]);
    const program = await assemble(optionsOf(elsewhere.paths));
    expect(await rowsOf(program)).toBe(5);
    await program.close();
  });
});

describe("a -wal file that is not", () => {
  it("of another bench is refused, and the bench opens without it with all its rows", async () => {
    await enterRows(1, 12);
    const other = await tempBench({ ids: countedIds("other") });
    await buildScene(other);
    const wal = readFileSync(`${other.paths.databaseFile}-wal`);
    await other.end();
    await bench.program.close();
    crashed(bench.paths, elsewhere.paths, ["", ".known"]);
    writeFileSync(`${elsewhere.paths.databaseFile}-wal`, wal);
    const trouble = await refused(elsewhere.paths);
    expect(await openedWithout(elsewhere.paths, trouble)).toBe(12);
  });

  it("of an earlier state of the same bench is refused", async () => {
    await enterRows(1, 3);
    const wal = readFileSync(`${bench.paths.databaseFile}-wal`);
    await enterRows(4, 30);
    await bench.program.close();
    crashed(bench.paths, elsewhere.paths, ["", ".known"]);
    writeFileSync(`${elsewhere.paths.databaseFile}-wal`, wal);
    const trouble = await refused(elsewhere.paths);
    expect(await openedWithout(elsewhere.paths, trouble)).toBe(30);
  });

  it("left by a crash beside a backup put in place by hand is refused, and the backup opens without it", async () => {
    await enterRows(1, 4);
    const copy = await bench.call("backups.make", { requestId: bench.request() });
    await enterRows(5, 9);
    crashed(bench.paths, elsewhere.paths);
    copyFileSync(join(bench.paths.backupFolder, copy.fileName), elsewhere.paths.databaseFile);
    const trouble = await refused(elsewhere.paths);
    expect(await openedWithout(elsewhere.paths, trouble)).toBe(4);
  });

  it("left by a later session beside a bench file from before it is refused", async () => {
    await enterRows(1, 4);
    await bench.program.close();
    const early = readFileSync(bench.paths.databaseFile);
    await bench.reopen();
    // So many that their lines fill pages that the next ones do not touch: otherwise nothing is missing.
    await enterRows(5, 60);
    withRawDatabase(bench.paths.databaseFile, (database) => database.pragma("wal_checkpoint(RESTART)"));
    await enterRows(61, 63);
    crashed(bench.paths, elsewhere.paths);
    rmSync(elsewhere.paths.databaseFile);
    writeFileSync(elsewhere.paths.databaseFile, early);
    const trouble = await refused(elsewhere.paths);
    expect(await openedWithout(elsewhere.paths, trouble)).toBe(4);
  });
});

describe("a -wal file that is gone", () => {
  const TOLD_BY = [[".holder"], [".wal-known"], [".holder", ".wal-known"]];

  it.each(TOLD_BY.map((told) => [told.join(" and "), told] as const))(
    "is missed where %s tells of it, and the file as it was found is kept",
    async (_, told) => {
      await enterRows(1, 3);
      withRawDatabase(bench.paths.databaseFile, (database) => database.pragma("wal_checkpoint(RESTART)"));
      await enterRows(4, 6);
      crashed(bench.paths, elsewhere.paths, ["", ".known", ...told]);
      const program = await assemble(optionsOf(elsewhere.paths));
      expect(program.notices.join()).toContain("with its last entries is gone");
      expect(await rowsOf(program)).toBeLessThan(6);
      await program.close();
      const again = await assemble(optionsOf(elsewhere.paths));
      expect(again.notices.join()).not.toContain("gone");
      await again.close();
      const kept = readdirSync(elsewhere.paths.dataFolder).filter((name) => name.includes(".without-wal-"));
      expect(kept).toHaveLength(1);
    },
  );

  it("with everything that tells of it cannot be missed: that stands among what the README cannot promise", async () => {
    await enterRows(1, 3);
    withRawDatabase(bench.paths.databaseFile, (database) => database.pragma("wal_checkpoint(RESTART)"));
    await enterRows(4, 6);
    crashed(bench.paths, elsewhere.paths, ["", ".known"]);
    const program = await assemble(optionsOf(elsewhere.paths));
    expect(program.notices).toEqual([]);
    await program.close();
    const readme = readFileSync(new URL("../../../../README.md", import.meta.url), "utf8");
    expect(readme).toContain(
      "the deletion of the -wal file together with everything that lies beside the bench",
    );
  });
});
