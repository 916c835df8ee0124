import Database from "better-sqlite3";
import { afterEach, beforeEach, expect, it } from "vitest";
import { measuring } from "#main/store/migrations/0020-measuring.ts";
import { buildScene, calibrateTrain, enter, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { benchOfTheFirstVersion } from "../../support/first-version.ts";
import { measurementDifferences } from "../../support/measurement-differences.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, type TempFolder, tempBench, tempFolder } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
let old: TempFolder;

beforeEach(async () => {
  old = tempFolder();
  bench = await tempBench();
  scene = await buildScene(bench, { customer: "" });
  await calibrateTrain(bench, scene);
});
afterEach(async () => {
  await bench.end();
  old.remove();
});

it("keeps every row, reading, size, strike and draft of an older bench, and knows its histories", async () => {
  await enterLength(bench, scene, "row-1", "10", "30.0");
  await enter(bench, scene, "row-2", { dimension: "width", edge: "right" }, "3,5");
  await enterLength(bench, scene, "row-3", "12", "55");
  const at = { requestId: bench.request(), sheetId: scene.sheet.id };
  await bench.call("rows.describe", { ...at, rowId: "row-3", label: "Corylus #12", note: "bent" });
  await bench.call("rows.strike", { ...at, requestId: bench.request(), rowId: "row-1", reason: "broken" });
  const cell = { dimension: "length", edge: "left" as const };
  await bench.call("rows.keepDraft", { sheetId: scene.sheet.id, rowId: "row-4", cell, typed: "4" });
  const page = { sheetId: scene.sheet.id, from: 1, count: 100 };
  const rows = await bench.call("rows.page", page);
  const sheet = await bench.call("sheets.get", { sheetId: scene.sheet.id });
  const bins = (file: string) =>
    withRawDatabase(file, (database) =>
      ["sheet_size_bin", "family_size_bin"].map((table) =>
        database.prepare(`SELECT * FROM ${table} WHERE n <> 0 ORDER BY 1, 2, 3, 4`).all(),
      ),
    );
  const counted = bins(bench.paths.databaseFile);
  expect(counted[0]).toHaveLength(1);

  await benchOfTheFirstVersion(bench.paths.databaseFile, old);
  const later = await tempBench({ paths: old.paths });
  expect(await later.call("rows.page", page)).toEqual(rows);
  expect(await later.call("sheets.get", { sheetId: scene.sheet.id })).toEqual(sheet);
  expect(await measurementDifferences(old.paths.databaseFile)).toEqual([]);
  expect(bins(old.paths.databaseFile)).toEqual(counted);
  // What was entered before there was a journal cannot be taken back.
  expect(await later.call("rows.journal", { sheetId: scene.sheet.id })).toEqual({ undo: null, redo: null });
  await later.end();
});

it("counts sizes in the database as the program does, wherever the logarithm falls", () => {
  const database = new Database(":memory:");
  const bin = database.prepare("SELECT CAST(floor(ln(CAST(? AS REAL)) * 50) AS INTEGER)").pluck();
  for (let i = 1; i < 5000; i += 1) {
    const size = (i * 0.137).toFixed(6);
    expect(bin.get(size)).toBe(Math.floor(Math.log(Number(size)) * 50));
  }
  database.close();
  expect(measuring.sql).toContain("floor(ln(CAST(size_um AS REAL)) * 50)");
});
