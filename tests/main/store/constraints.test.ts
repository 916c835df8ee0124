import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { asReadableDb } from "#main/store/connection.ts";
import { ofTheBench, trailOfSubject } from "#main/store/repositories/audit-trail.ts";
import { inForceOf, ofTrain } from "#main/store/repositories/calibration-repository.ts";
import { measurementsBetween, measurementsOfRow, rowsFrom } from "#main/store/repositories/row-repository.ts";
import { buildScene, calibrateTrain, enterLength } from "../../support/bench-scenes.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;

beforeAll(async () => {
  bench = await tempBench();
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
});
afterAll(() => bench.end());

const attempt = (sql: string) => () =>
  withRawDatabase(bench.paths.databaseFile, (database) => database.exec(sql));

describe("what the file itself does not let happen, whoever asks", () => {
  it.each([
    ["a line of the trail changed", "UPDATE audit_line SET reason = 'x'", "append-only"],
    ["a line of the trail deleted", "DELETE FROM audit_line WHERE sequence = 1", "append-only"],
    ["a specimen row deleted", "DELETE FROM specimen_row", "struck, not deleted"],
    ["a measurement deleted", "DELETE FROM measurement", "struck, not deleted"],
    ["a sheet deleted", "DELETE FROM sheet", "not deleted"],
    ["a calibration deleted", "DELETE FROM calibration", "withdraw it"],
    ["a result changed", "UPDATE calibration SET result_json = '{}'", "keeps its settings and its result"],
    [
      "settings changed afterwards",
      "UPDATE calibration SET settings_json = '[]'",
      "keeps its settings and its result",
    ],
    ["a certificate changed", "UPDATE certificate SET coverage_factor = '3'", "not changed"],
    ["a certified line changed", "UPDATE certificate_line SET error = '9'", "not changed"],
    ["a method changed", "UPDATE method SET definition_json = '{}'", "next version"],
    [
      "a second calibration in force",
      `INSERT INTO calibration SELECT 'x', train_id, stage_micrometer_id, certificate_id, person_id, state, started_at, settings_json, conditions_json, estimator, coverage, remark, result_json, due_on, in_force_at, in_force_by, ended_at, ended_by, end_reason FROM calibration`,
      "UNIQUE",
    ],
    ["a reading that is not a number", "UPDATE measurement SET left_typed = '4o'", "CHECK"],
    ["an exponent as a size", "UPDATE measurement SET size_um = '1e3'", "CHECK"],
    ["a number that SQLite made", "UPDATE measurement SET size_um = 1e21", "CHECK"],
    ["two decimal points", "UPDATE measurement SET divisions_text = '1.2.3'", "CHECK"],
    ["a size without a calibration", "UPDATE measurement SET calibration = NULL", "CHECK"],
    [
      "an instant without its milliseconds",
      "UPDATE person SET registered_at = '2026-03-02T09:00:00Z'",
      "CHECK",
    ],
    ["a person without a name", "UPDATE person SET name = NULL", "NOT NULL"],
  ])("%s", (_, sql, words) => {
    expect(attempt(sql)).toThrow(words);
  });

  it("lets SQLite's own doubles in nowhere: a number bound as text shows as one", () => {
    // better-sqlite3 binds 3 as a double, which STRICT turns into '3.0': a net below the branded types.
    withRawDatabase(bench.paths.databaseFile, (database) => {
      database.exec("CREATE TEMP TABLE t (v TEXT) STRICT");
      database.prepare("INSERT INTO t VALUES (?)").run(3);
      expect(database.prepare("SELECT v FROM t").pluck().get()).toBe("3.0");
    });
  });
});

describe("hot statements use an index and sort nothing", () => {
  it.each([
    [
      "a page of rows",
      rowsFrom("", 1, 1),
      ["SEARCH r USING INDEX specimen_row_on_sheet (sheet_id=? AND ordinal>?)"],
    ],
    [
      "the measurements of a page",
      measurementsBetween("", 1, 1),
      [
        "SEARCH r USING INDEX specimen_row_on_sheet (sheet_id=? AND ordinal>? AND ordinal<?)",
        "SEARCH m USING PRIMARY KEY (row_key=?)",
        "SEARCH ms USING INTEGER PRIMARY KEY (rowid=?)",
        "SEARCH mc USING INTEGER PRIMARY KEY (rowid=?) LEFT-JOIN",
      ],
    ],
    [
      "the measurements of a row",
      measurementsOfRow(""),
      [
        "SEARCH r USING COVERING INDEX sqlite_autoindex_specimen_row_1 (id=?)",
        "SEARCH m USING PRIMARY KEY (row_key=?)",
        "SEARCH ms USING INTEGER PRIMARY KEY (rowid=?)",
        "SEARCH mc USING INTEGER PRIMARY KEY (rowid=?) LEFT-JOIN",
      ],
    ],
    [
      "the calibration in force",
      inForceOf(""),
      ["SEARCH calibration USING INDEX calibration_in_force (train_id=?)"],
    ],
    [
      "the trail of a record",
      trailOfSubject(""),
      [
        "SEARCH a USING INDEX audit_line_by_subject (subject_id=?)",
        "SEARCH k USING INTEGER PRIMARY KEY (rowid=?)",
        "SEARCH m USING INTEGER PRIMARY KEY (rowid=?) LEFT-JOIN",
      ],
    ],
    [
      "what the trail tells of the bench itself, such as the key of its heads",
      ofTheBench(""),
      [
        "SEARCH a USING INDEX audit_line_by_subject (subject_id=?)",
        "SEARCH k USING INTEGER PRIMARY KEY (rowid=?)",
        "SEARCH m USING INTEGER PRIMARY KEY (rowid=?) LEFT-JOIN",
      ],
    ],
  ])("%s", (_, query, steps) => {
    withRawDatabase(bench.paths.databaseFile, (database) => {
      expect(query.explain(asReadableDb(database)).split("\n")).toEqual(steps);
    });
  });

  it("the history of a train", () => {
    withRawDatabase(bench.paths.databaseFile, (database) => {
      const plan = ofTrain("").explain(asReadableDb(database));
      expect(plan).toContain("USING INDEX calibration_by_train (train_id=?)");
      expect(plan).not.toContain("SCAN");
    });
  });
});
