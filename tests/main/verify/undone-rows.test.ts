import { afterEach, beforeEach, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { tamper } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  await enterLength(bench, scene, "row-2", "10", "30");
});
afterEach(() => bench.end());

const differences = async () =>
  (await bench.call("trail.verify", {})).differences.map(({ where }) => where).join("; ");
const about = () => ({ requestId: bench.request(), sheetId: scene.sheet.id });
const change = (sql: string) => tamper(bench.paths.databaseFile, sql);

it("a row that an undo took away is verified with its keys, and one that came back as any other", async () => {
  await bench.call("rows.undo", about());
  await bench.call("rows.undo", about());
  expect(await differences()).toBe("");
  const KEYS = "SELECT label_stem FROM specimen_row WHERE id = 'row-2' AND undone_at IS NOT NULL";
  change(`UPDATE specimen_row SET label_stem = 'other' WHERE id IN (SELECT 'row-2' WHERE EXISTS (${KEYS}))`);
  expect(await differences()).toContain("stem of its label");
  change("UPDATE specimen_row SET label_stem = lower(label) WHERE id = 'row-2'");
  change("UPDATE specimen_row SET undone_at = '2026-03-02T08:00:00.000Z' WHERE id = 'row-2'");
  expect(await differences()).toContain("taken away");
});

it("a row that came back by redo is verified with its keys", async () => {
  await bench.call("rows.undo", about());
  await bench.call("rows.undo", about());
  await bench.call("rows.redo", about());
  await bench.call("rows.redo", about());
  expect(await differences()).toBe("");
  change("UPDATE measurement SET size_bin = size_bin + 1");
  expect(await differences()).toMatch(/row 1, length, class of its size.*row 2, length, class of its size/);
});
