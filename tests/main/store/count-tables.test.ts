import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openBench } from "#main/store/bench-file/open.ts";
import { type BenchDb, driverOf } from "#main/store/connection.ts";
import {
  eventByRequest,
  lastUndoable,
  pageOfEvents,
} from "#main/store/repositories/count-event-repository.ts";
import { buildScene } from "../../support/bench-scenes.ts";
import { handOf, openCount } from "../../support/count-scene.ts";
import { fixedClock } from "../../support/fixed-clock.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let store: { readonly db: BenchDb; close(): void };

beforeEach(async () => {
  bench = await tempBench();
  const scene = await buildScene(bench);
  const count = await openCount(bench, scene);
  const hand = handOf(bench, count.id);
  await hand.press();
  await hand.press();
  await hand.undo();
  await bench.program.close();
  store = await openBench({ paths: bench.paths, clock: fixedClock(), host: "test" });
});
afterEach(async () => {
  store.close();
  await bench.end();
});

describe("the tables of a count", () => {
  it.each([
    ["a press cannot be changed", "UPDATE tally_event SET thousandths = 6 WHERE sequence = 1"],
    ["nor its time", "UPDATE tally_event SET at = '2026-03-02T09:00:00.000Z' WHERE sequence = 1"],
    ["nor its hash", "UPDATE tally_event SET hash = upper(hash)"],
    ["a press cannot be deleted", "DELETE FROM tally_event"],
    ["a press cannot be struck twice", "UPDATE tally_event SET struck_by = NULL WHERE sequence = 2"],
    ["a count cannot be deleted", "DELETE FROM tally"],
    ["a count method cannot be changed", "UPDATE count_method SET definition_json = '{}'"],
    ["a count cannot be closed without results", "UPDATE tally SET state = 'closed', running_since = NULL"],
    ["a sum cannot fall below nothing", "UPDATE tally_field_count SET thousandths = -1"],
  ])("%s", (_, sql) => {
    expect(() => driverOf(store.db).exec(sql)).toThrow(/struck|not deleted|not changed|CHECK constraint/);
  });

  it("one request id belongs to one event", () => {
    const sql = `INSERT INTO tally_event SELECT tally_id, 99, kind, field, category, thousandths, row_id, strikes, NULL,
      at, by_person, request_id, hash FROM tally_event WHERE sequence = 1`;
    expect(() => driverOf(store.db).exec(sql)).toThrow("UNIQUE constraint");
  });

  it.each([
    ["a repeated request", eventByRequest("")],
    ["the last press that stands", lastUndoable("")],
    ["a page of the sequence", pageOfEvents("", 1, 1)],
  ])("find %s by an index, without a scan and without sorting", (_, query) => {
    const plan = query.explain(store.db);
    expect(plan).toContain("SEARCH");
    expect(plan).not.toMatch(/SCAN|TEMP B-TREE/);
  });
});
