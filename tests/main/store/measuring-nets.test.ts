import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { asReadableDb } from "#main/store/connection.ts";
import { firstUndoneOf, lastDoneOf } from "#main/store/repositories/journal-repository.ts";
import { labelsFrom, sizesBetween } from "#main/store/repositories/sheet-columns-repository.ts";
import { allBinsElsewhere, binsOfLabelElsewhere } from "#main/store/repositories/size-history-repository.ts";
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
    ["labels of a sheet", labelsFrom("", 1, 1), ["specimen_row_on_sheet"]],
    ["sizes of a sheet", sizesBetween("", 1, 1), ["specimen_row_on_sheet", "PRIMARY KEY"]],
    [
      "the history of a label",
      binsOfLabelElsewhere("", "", ""),
      ["(family_id=? AND label_stem=?)", "(sheet_id=? AND"],
    ],
    ["all histories of a method", allBinsElsewhere("", ""), ["(family_id=?)", "(sheet_id=? AND"]],
    ["what undo takes back", lastDoneOf(""), ["sheet_act_by_state"]],
    ["what redo does again", firstUndoneOf(""), ["sheet_act_by_state"]],
  ])("%s", (_, query, steps) => {
    withRawDatabase(bench.paths.databaseFile, (database) => {
      const plan = query.explain(asReadableDb(database));
      expect(plan).not.toMatch(/SCAN|TEMP B-TREE/);
      for (const step of steps) expect(plan).toContain(step);
    });
  });
});
