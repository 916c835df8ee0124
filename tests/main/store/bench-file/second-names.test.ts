import {
  copyFileSync,
  existsSync,
  linkSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { assemble } from "#main/assemble.ts";
import type { BenchPaths } from "#main/ports/paths.ts";
import type { Program, ProgramOptions } from "#main/program.ts";
import { buildScene, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { countedIds, fixedClock } from "../../../support/fixed-clock.ts";
import { type TempBench, type TempFolder, tempBench, tempFolder } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
let other: TempFolder;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await enterLength(bench, scene, "row-1", "40", "60");
  other = tempFolder();
});
afterEach(async () => {
  await bench.end();
  other.remove();
});

const optionsOf = (paths: BenchPaths): ProgramOptions => ({
  paths,
  clock: fixedClock("2026-03-02T18:00:00.000Z"),
  ids: countedIds("later"),
  host: "loopback",
  programVersion: "0.0.0-test",
});

async function rowsOf(program: Program): Promise<number> {
  const page = await program.dispatch("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 });
  return page.ok ? (page.value as { total: number }).total : -1;
}

describe("a bench's file under a second name", () => {
  it("is not opened while it is open under the first, nor changed by the attempt", async () => {
    linkSync(bench.paths.databaseFile, other.paths.databaseFile);
    const before = readFileSync(other.paths.databaseFile);
    await expect(assemble(optionsOf(other.paths))).rejects.toMatchObject({
      code: "bench.locked",
      message: expect.stringContaining("2 names"),
    });
    expect(readFileSync(other.paths.databaseFile)).toEqual(before);
    expect(readdirSync(other.paths.dataFolder).filter((name) => name.endsWith("-wal"))).toEqual([]);
    await enterLength(bench, scene, "row-2", "41", "61");
    await bench.reopen();
    expect((await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 })).total).toBe(2);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("opens when it is open nowhere, which is said at each start until there is one name", async () => {
    await bench.program.close();
    linkSync(bench.paths.databaseFile, other.paths.databaseFile);
    const program = await assemble(optionsOf(other.paths));
    expect(program.notices.join()).toContain("has 2 names on this disk");
    expect(await rowsOf(program)).toBe(1);
    await program.close();
    rmSync(bench.paths.databaseFile);
    const alone = await assemble(optionsOf(other.paths));
    expect(alone.notices.join()).not.toContain("names on this disk");
    await alone.close();
    copyFileSync(other.paths.databaseFile, bench.paths.databaseFile);
    await bench.reopen();
  });

  it("worked on there after a crash here: the -wal left here is refused", async () => {
    // More than its -wal alone holds: a -wal of a few pages would be overtaken by nothing.
    for (let row = 2; row <= 40; row += 1) await enterLength(bench, scene, `row-${row}`, "40", "60");
    const { databaseFile } = bench.paths;
    const left = new Map(
      ["", "-wal", ".known", ".holder", ".wal-known"].map((end) => [end, readFileSync(databaseFile + end)]),
    );
    await bench.program.close();
    const here = { ...other.paths, databaseFile: join(other.paths.dataFolder, "bench.sqlite") };
    for (const [end, bytes] of left) writeFileSync(here.databaseFile + end, bytes);
    const there = tempFolder();
    mkdirSync(there.paths.dataFolder, { recursive: true });
    // The same state closed and grown under the other name.
    writeFileSync(there.paths.databaseFile, readFileSync(databaseFile));
    const program = await assemble(optionsOf(there.paths));
    for (let row = 1; row <= 60; row += 1) {
      const cell = { dimension: "length", edge: "left" };
      const input = { requestId: `request-there-${row}`, sheetId: scene.sheet.id, rowId: `there-${row}` };
      await program.dispatch("rows.enter", { ...input, cell, typed: "41", label: "" });
    }
    await program.close();
    rmSync(here.databaseFile);
    linkSync(there.paths.databaseFile, here.databaseFile);
    await expect(assemble(optionsOf(here))).rejects.toMatchObject({ code: "bench.foreign-wal" });
    there.remove();
    await bench.reopen();
  });

  it("is not seen in what the program itself left of its look at the file alone", async () => {
    await bench.program.close();
    linkSync(bench.paths.databaseFile, `${bench.paths.databaseFile}.alone`);
    await bench.reopen();
    expect(bench.program.notices).toEqual([]);
    expect(existsSync(`${bench.paths.databaseFile}.alone`)).toBe(false);
  });
});
