import { spawn } from "node:child_process";
import { once } from "node:events";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../support/bench-scenes.ts";
import { lostNothing } from "../support/fault-record.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";

vi.setConfig({ testTimeout: 600_000, hookTimeout: 120_000 });

const CHILD = fileURLToPath(new URL("../support/exporting-child.ts", import.meta.url));
const ROWS = 60;
const KINDS = ["values workbook", "csv", "json", "hand-over"] as const;

let bench: TempBench;
let scene: Scene;
let elsewhere: string;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  for (let row = 1; row <= ROWS; row += 1) await enterLength(bench, scene, `row-${row}`, "23.0", "51.5");
  elsewhere = mkdtempSync(join(tmpdir(), "linefall-chosen-"));
});
afterEach(async () => {
  rmSync(elsewhere, { recursive: true, force: true });
  await bench.end();
});

const hidden = (folder = elsewhere): string[] => readdirSync(folder).filter((name) => name.startsWith("."));

/** Kills a writer while a half-written file of it lies there. @returns what it left */
async function killWhileWriting(place: string, what: string): Promise<string[]> {
  const args = [CHILD, bench.paths.dataFolder, scene.sheet.id, place, what];
  const child = spawn(process.execPath, args, { stdio: ["ignore", "ignore", "inherit"] });
  const exited = once(child, "exit");
  for (const end = Date.now() + 60_000; Date.now() < end && child.exitCode === null; await wait(1)) {
    if (hidden().length === 0) continue;
    child.kill("SIGKILL");
    await exited;
    return hidden();
  }
  child.kill("SIGKILL");
  throw new Error("the writer began no file");
}

it("leaves nothing beside the place that was chosen, and nothing but whole files under its name", async () => {
  const place = join(elsewhere, "for the customer.out");
  const mine = [
    ".for the customer.out.part",
    ".for the customer.out.1-x.part",
    ".for the customer.out.999999-abc.part.txt",
    ".another.out.4711-abc.part",
  ];
  let kills = 0;
  let left = 0;
  for (const kind of KINDS) {
    for (let time = 0; time < 2; time += 1) {
      await bench.program.close();
      left += (await killWhileWriting(place, kind)).length;
      kills += 1;
      // What looks alike and is somebody else's.
      for (const name of mine) writeFileSync(join(elsewhere, name), "mine");
      await bench.reopen();
      expect(hidden().sort()).toEqual([...mine].sort());
      for (const name of mine) rmSync(join(elsewhere, name));
      if (existsSync(place)) expect(readFileSync(place).length).toBeGreaterThan(0);
    }
    rmSync(place, { force: true });
  }
  expect(left, "a kill in the middle leaves something, or this shows nothing").toBeGreaterThan(0);
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  expect(existsSync(`${bench.paths.databaseFile}.writing`)).toBe(false);
  lostNothing("killed while an export or a hand-over is written", kills, "half files left: 0");
});

it("goes elsewhere although nothing can be noted beside the bench", async () => {
  const place = join(elsewhere, "saved.sqlite");
  const own = await tempBench({ chooseExportPath: async () => place });
  const { dataFolder } = own.paths;
  renameSync(dataFolder, `${dataFolder}-away`);
  try {
    expect(await own.call("backups.handOver", {})).toMatchObject({ path: place });
    expect(existsSync(place)).toBe(true);
  } finally {
    renameSync(`${dataFolder}-away`, dataFolder);
    await own.end();
  }
});

it("waits for a folder that is not there now, and follows no link", async () => {
  const place = join(elsewhere, "stick", "rows.csv");
  mkdirSync(join(elsewhere, "stick"));
  const notes = `${bench.paths.databaseFile}.writing`;
  await bench.program.close();
  writeFileSync(notes, JSON.stringify([{ pid: 999_999, place }]));
  writeFileSync(join(elsewhere, "stick", ".rows.csv.999999-abc.part"), "half");
  writeFileSync(join(elsewhere, "precious"), "whole");
  symlinkSync(join(elsewhere, "precious"), join(elsewhere, "stick", ".rows.csv.999999-def.part"));
  renameSync(join(elsewhere, "stick"), join(elsewhere, "pulled out"));
  await bench.reopen();
  expect(hidden(join(elsewhere, "pulled out"))).toHaveLength(2);
  await bench.program.close();
  renameSync(join(elsewhere, "pulled out"), join(elsewhere, "stick"));
  await bench.reopen();
  expect(hidden(join(elsewhere, "stick"))).toEqual([".rows.csv.999999-def.part"]);
  expect(readFileSync(join(elsewhere, "precious"), "utf8")).toBe("whole");
  expect(existsSync(notes)).toBe(false);
});
