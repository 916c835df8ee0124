import { readdirSync, renameSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setImmediate as nextTurn } from "node:timers/promises";
import { afterEach, beforeEach, expect, it } from "vitest";
import { copyWorkBeside } from "#main/loopback/copy-work.ts";
import { buildScene, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
beforeEach(async () => {
  bench = await tempBench({ copyWork: copyWorkBeside });
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

const rowsIn = (file: string) =>
  withRawDatabase(file, (database) =>
    database.prepare("SELECT id FROM specimen_row ORDER BY id").pluck().all(),
  );
const copyOf = (fileName: string) => join(bench.paths.backupFolder, fileName);

it("a copy is checked in a process of its own, which finds a whole one whole and a damaged one damaged", async () => {
  const { fileName } = await bench.call("backups.make", { requestId: bench.request() });
  const copy = copyOf(fileName);
  expect(await copyWorkBeside({ kind: "check", file: copy })).toEqual([]);
  writeFileSync(copy, "no database at all, only a text in its place");
  expect(await copyWorkBeside({ kind: "check", file: copy })).toHaveLength(1);
});

it("the bench is copied in a process of its own: all acknowledged before, one private file, entry goes on meanwhile", async () => {
  await enterLength(bench, scene, "row-before", "23.0", "51.5");
  const making = bench.call("backups.make", { requestId: bench.request() });
  let rows = 0;
  let isMade = false;
  const ended = making.finally(() => {
    isMade = true;
  });
  while (!isMade) {
    rows += 1;
    await enterLength(bench, scene, `row-meanwhile-${rows}`, "23.0", "51.5");
    await nextTurn();
  }
  const { fileName: made } = await ended;
  expect(rows).toBeGreaterThan(5);
  expect(readdirSync(bench.paths.backupFolder)).toEqual([made]);
  expect(statSync(copyOf(made)).mode & 0o777).toBe(0o600);
  const held = rowsIn(copyOf(made));
  expect(held).toContain("row-before");
  expect(held.length).toBeLessThan(rows + 1);
  expect(rowsIn(bench.paths.databaseFile)).toHaveLength(rows + 1);
});

it("the day’s first write waits until its copy has begun, so that the copy holds the days before and nothing else", async () => {
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  await bench.reopen();
  bench.clock.set("2026-04-03T08:00:00.000Z");
  await Promise.all(
    Array.from({ length: 10 }, (_, i) => enterLength(bench, scene, `row-of-the-day-${i}`, "23.0", "51.5")),
  );
  const isMade = () =>
    readdirSync(bench.paths.backupFolder).find((name) => /20260403.*-[0-9a-f]{16}\.sqlite$/.test(name)) ?? "";
  await expect.poll(isMade, { timeout: 20_000 }).not.toBe("");
  expect(rowsIn(copyOf(isMade()))).toEqual(["row-1"]);
});

it("another bench in the place of the open one is not taken for its copy: what is open is copied", async () => {
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  const other = await tempBench();
  await buildScene(other, { customer: "Another laboratory" });
  const { fileName } = await other.call("backups.make", { requestId: other.request() });
  renameSync(bench.paths.databaseFile, `${bench.paths.databaseFile}.away`);
  renameSync(join(other.paths.backupFolder, fileName), bench.paths.databaseFile);
  await bench.program.dispatch("backups.make", { requestId: bench.request() });
  const [made = ""] = readdirSync(bench.paths.backupFolder);
  expect(rowsIn(copyOf(made))).toEqual(["row-1"]);
  renameSync(`${bench.paths.databaseFile}.away`, bench.paths.databaseFile);
  await other.end();
});
