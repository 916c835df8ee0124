import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { asReadableDb, explain } from "#main/store/connection.ts";
import { FIRST_UNDONE, LAST_DONE } from "#main/store/repositories/journal-repository.ts";
import { LABELS_FROM, SIZES_BETWEEN } from "#main/store/repositories/sheet-columns-repository.ts";
import {
  ALL_BINS_ELSEWHERE,
  BINS_OF_LABEL_ELSEWHERE,
} from "#main/store/repositories/size-history-repository.ts";
import { buildScene, calibrateTrain, enterLength } from "../../support/bench-scenes.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;

beforeAll(async () => {
  bench = await tempBench();
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  await bench.call("rows.undo", { requestId: bench.request(), sheetId: scene.sheet.id });
  await enterLength(bench, scene, "row-2", "23.0", "51.5");
});
afterAll(() => bench.end());

describe("the measuring tables refuse", () => {
  it.each([
    ["an act of the journal deleted", "DELETE FROM sheet_act", "taken back, not deleted"],
    ["a superseded result deleted", "DELETE FROM superseded_measurement", "is not deleted"],
    ["a superseded result changed", "UPDATE superseded_measurement SET act = 'x'", "stays as it was"],
    [
      "a measurement deleted that was kept nowhere",
      "DELETE FROM measurement WHERE row_key = (SELECT key FROM specimen_row WHERE id = 'row-2')",
      "struck, not deleted",
    ],
    [
      "divisions beside an edge",
      "UPDATE measurement SET direct_typed = '3' WHERE row_key = (SELECT key FROM specimen_row WHERE id = 'row-2')",
      "CHECK constraint failed",
    ],
    [
      "two rows at one place",
      "UPDATE specimen_row SET ordinal = 1 WHERE id = 'row-2'",
      "UNIQUE constraint failed",
    ],
  ])("%s", (_, sql, words) => {
    withRawDatabase(bench.paths.databaseFile, (database) => {
      expect(() => database.exec(sql)).toThrow(words);
    });
  });
});

describe("hot statements of measuring use an index and scan nothing", () => {
  it.each([
    ["labels of a sheet", LABELS_FROM, ["specimen_row_on_sheet"]],
    ["sizes of a sheet", SIZES_BETWEEN, ["specimen_row_on_sheet", "PRIMARY KEY"]],
    [
      "the history of a label",
      BINS_OF_LABEL_ELSEWHERE,
      ["(family_id=? AND label_stem=?)", "(sheet_id=? AND"],
    ],
    ["all histories of a method", ALL_BINS_ELSEWHERE, ["(family_id=?)", "(sheet_id=? AND"]],
    ["what undo takes back", LAST_DONE, ["sheet_act_by_state"]],
    ["what redo does again", FIRST_UNDONE, ["sheet_act_by_state"]],
  ])("%s", (_, sql, steps) => {
    withRawDatabase(bench.paths.databaseFile, (database) => {
      const plan = explain(asReadableDb(database), sql);
      expect(plan).not.toMatch(/SCAN|TEMP B-TREE/);
      for (const step of steps) expect(plan).toContain(step);
    });
  });
});
