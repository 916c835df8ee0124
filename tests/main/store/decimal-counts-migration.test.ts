import { copyFileSync } from "node:fs";
import { afterEach, beforeEach, expect, it } from "vitest";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { decimalCounts } from "#main/store/migrations/0130-decimal-counts.ts";
import { buildScene } from "../../support/bench-scenes.ts";
import { handOf, openCount } from "../../support/count-scene.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, type TempFolder, tempBench, tempFolder } from "../../support/temp-bench.ts";

let bench: TempBench;
let old: TempFolder;

beforeEach(async () => {
  old = tempFolder();
  bench = await tempBench();
});
afterEach(async () => {
  await bench.end();
  old.remove();
});

/** The three tables as the step before kept them: half units. */
const BACK = `
DROP TRIGGER tally_event_stays;
UPDATE tally_event SET thousandths = thousandths / 500 WHERE thousandths IS NOT NULL;
UPDATE tally_field_count SET thousandths = thousandths / 500;
UPDATE tally_category_count SET thousandths = thousandths / 500;
ALTER TABLE tally_event RENAME COLUMN thousandths TO half_units;
ALTER TABLE tally_field_count RENAME COLUMN thousandths TO half_units;
ALTER TABLE tally_category_count RENAME COLUMN thousandths TO half_units;
CREATE TRIGGER tally_event_stays BEFORE UPDATE OF half_units ON tally_event
  BEGIN SELECT RAISE(ABORT, 'a press is struck, not changed'); END;
`;

it("keeps every press, sum and hash of counts that were kept as half units", async () => {
  const scene = await buildScene(bench);
  const { id } = await openCount(bench, scene, { definition: POLLEN_MARKER, inputs: {}, withTrain: false });
  const hand = handOf(bench, id);
  await hand.press("pinus", "0.5");
  await hand.press("pinus", "12");
  await hand.press("betula");
  await hand.undo();
  const state = await bench.call("counts.state", { countId: id });
  const events = await bench.call("counts.events", { countId: id, from: 1, count: 100 });
  await bench.program.close();
  copyFileSync(bench.paths.databaseFile, old.paths.databaseFile);
  withRawDatabase(old.paths.databaseFile, (database) => {
    database.exec(BACK);
    expect(database.prepare("SELECT half_units FROM tally_category_count").pluck().all().sort()).toEqual([
      0, 25,
    ]);
    // The step itself: later ones have been made in this file already.
    database.exec(decimalCounts.sql);
  });
  const later = await tempBench({ paths: old.paths });
  expect(await later.call("counts.events", { countId: id, from: 1, count: 100 })).toEqual(events);
  expect((await later.call("counts.state", { countId: id })).fields).toEqual(state.fields);
  expect((await later.call("trail.verify", {})).differences).toEqual([]);
  await later.end();
});
