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
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { assemble } from "#main/assemble.ts";
import type { ProgramOptions } from "#main/program.ts";
import { backupFileName, stemOf } from "#main/store/bench-file/backup-file-name.ts";
import { BenchUnopenable } from "#main/store/bench-file/bench-unopenable.ts";
import { presentFile, rebuildCopy } from "#main/store/bench-file/copy-chain.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { benchOfTheFirstVersion } from "../../support/first-version.ts";
import { countedIds, fixedClock } from "../../support/fixed-clock.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, type TempFolder, tempBench, tempFolder } from "../../support/temp-bench.ts";

// Hundreds of entries, each on disk before it is acknowledged: a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

/*
 * Cut-off and overwritten files, headers, zero bytes, foreign and newer files and a file held exclusively are tried in
 * tests/main/store/open.test.ts; a read-only folder, another process and a full disk in tests/faults; a missing
 * attachment in attachments.test.ts. Here: the write-ahead log that did not come along, and one flipped byte.
 */
let bench: TempBench;
let scene: Scene;
let found: TempFolder;

beforeEach(async () => {
  found = tempFolder();
  bench = await tempBench();
  scene = await buildScene(bench, { customer: "" });
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
});
afterEach(async () => {
  await bench.end();
  found.remove();
});

const options = (): ProgramOptions => ({
  paths: found.paths,
  clock: fixedClock("2026-03-05T09:00:00.000Z"),
  ids: countedIds("found"),
  host: "loopback",
  programVersion: "0",
});

/** The bench as a power cut leaves it on the disk, in another folder, with the named parts. */
function asAfterPowerCut(...parts: readonly string[]): void {
  for (const part of ["", ".known", ".holder", ...parts]) {
    const from = `${bench.paths.databaseFile}${part}`;
    if (existsSync(from)) copyFileSync(from, `${found.paths.databaseFile}${part}`);
  }
}

async function whyNot(): Promise<BenchUnopenable> {
  const error = await assemble(options()).catch((reason: unknown) => reason);
  if (error instanceof BenchUnopenable) return error;
  throw new Error(`not refused: ${String(error)}`);
}

describe("after a power cut", () => {
  it("everything is there when the write-ahead log is", async () => {
    asAfterPowerCut("-wal");
    const program = await assemble(options());
    expect(program.notices).toEqual([]);
    const page = { sheetId: scene.sheet.id, from: 1, count: 5 };
    expect(await program.dispatch("rows.page", page)).toMatchObject({ ok: true, value: { total: 1 } });
    await program.close();
  });

  it("a bench whose entries all stood in the missing log is no empty bench", async () => {
    asAfterPowerCut();
    const before = readFileSync(found.paths.databaseFile);
    const { code, message, hint, offers } = await whyNot();
    expect(code).toBe("bench.missing");
    expect(message).toContain("bench.sqlite-wal, which is gone");
    expect(hint).toContain("Put that file back");
    expect(offers.map((offer) => offer.kind)).toEqual(["start-empty"]);
    expect(readFileSync(found.paths.databaseFile).equals(before)).toBe(true);
    copyFileSync(`${bench.paths.databaseFile}-wal`, `${found.paths.databaseFile}-wal`);
    const program = await assemble(options());
    expect(await program.dispatch("trail.verify", {})).toMatchObject({
      ok: true,
      value: { measurements: 1 },
    });
    await program.close();
  });

  it("a bench that lacks its last entries says so and can still be joined with its log", async () => {
    await bench.reopen();
    await enterLength(bench, scene, "row-2", "41", "62");
    asAfterPowerCut();
    const program = await assemble(options());
    expect(program.notices.join()).toContain("with its last entries is gone");
    const page = { sheetId: scene.sheet.id, from: 1, count: 5 };
    expect(await program.dispatch("rows.page", page)).toMatchObject({ ok: true, value: { total: 1 } });
    await program.close();
    const [aside] = readdirSync(found.paths.dataFolder).filter((name) => name.includes(".without-wal-"));
    for (const rest of ["", "-wal", "-shm"]) rmSync(found.paths.databaseFile + rest, { force: true });
    copyFileSync(join(found.paths.dataFolder, aside ?? ""), found.paths.databaseFile);
    copyFileSync(`${bench.paths.databaseFile}-wal`, `${found.paths.databaseFile}-wal`);
    const whole = await assemble(options());
    expect(await whole.dispatch("rows.page", page)).toMatchObject({ ok: true, value: { total: 2 } });
    await whole.close();
  });
});

it("one flipped bit in a stored figure opens, as no check of the pages sees it, and verify names it", async () => {
  await bench.program.close();
  const bytes = readFileSync(bench.paths.databaseFile);
  const at = bytes.lastIndexOf("295.6431");
  expect(at).toBeGreaterThan(0);
  bytes[at] = (bytes[at] ?? 0) ^ 1;
  writeFileSync(bench.paths.databaseFile, bytes);
  await bench.reopen();
  const { differences } = await bench.call("trail.verify", {});
  // The figure stands in the measurement and in the line of the trail that tells of it.
  expect(differences[0]?.where).toMatch(/^trail line \d+, rows\.enter$|^sheet S-0001, row 1, length/);
});

it("a backup made before a migration is restored, brought up to date and verifies", async () => {
  await benchOfTheFirstVersion(bench.paths.databaseFile, found);
  const fileName = backupFileName("2026-01-15T08:00:00.000Z", "before migration", null);
  mkdirSync(bench.paths.backupFolder, { recursive: true });
  const backup = join(bench.paths.backupFolder, fileName);
  copyFileSync(found.paths.databaseFile, backup);
  const old = readFileSync(backup);
  await enterLength(bench, scene, "row-2", "41", "62");
  expect(await bench.call("backups.check", { fileName })).toMatchObject({ version: 10, rows: 1, sheets: 1 });
  const { words } = await bench.call("backups.restore", {
    requestId: bench.request(),
    fileName,
    reason: "back to January",
  });
  expect(words).toContain("2026-01-15 08:00 UTC");
  const page = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 5 });
  expect(page.rows.map((row) => row.measurements[0]?.size?.shownValue)).toEqual(["295.6"]);
  // The first version kept no assessment and no customer, but this trail, made by today's program, tells of both.
  const { differences } = await bench.call("trail.verify", {});
  expect(differences.filter(({ where }) => !/^assessment|, customer$/.test(where))).toEqual([]);
  await enterLength(bench, scene, "row-3", "10", "20");
  // The copy is what it was, though it may be condensed by now.
  const { backupFolder, dataFolder } = bench.paths;
  const rebuilt = join(dataFolder, "rebuilt");
  const lies = presentFile(backupFolder, stemOf(fileName)) ?? "";
  expect(rebuildCopy(backupFolder, lies, rebuilt)).toEqual([]);
  expect(readFileSync(rebuilt).equals(old)).toBe(true);
  const version = withRawDatabase(rebuilt, (db) => db.pragma("user_version", { simple: true }));
  expect(version).toBe(10);
});
