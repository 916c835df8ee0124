import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enter, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { tamper } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  await enterLength(bench, scene, "row-2", "10.5", "61");
  await enter(bench, scene, "row-2", { dimension: "length", edge: "right" }, "60.5");
  await enter(bench, scene, "row-3", { dimension: "width", edge: "right" }, "33");
});
afterEach(() => bench.end());

const verify = () => bench.call("trail.verify", {});

it("finds every result, reading and hash in order on a bench nobody tampered with", async () => {
  const report = await verify();
  expect(report).toMatchObject({ calibrations: 1, measurements: 3, differences: [], more: false });
  expect(report.trailLines).toBe(15);
});

describe("names what was changed behind the program's back", () => {
  it.each([
    [
      "one digit of a size",
      "UPDATE measurement SET size_um = replace(size_um, '295.6', '203.0') WHERE row_key = (SELECT key FROM specimen_row WHERE id = 'row-1')",
      "sheet S-0001, row 1, length, size, value",
    ],
    [
      "the size as it was shown",
      "UPDATE measurement SET size_shown = '203.0' WHERE row_key = (SELECT key FROM specimen_row WHERE id = 'row-1')",
      "sheet S-0001, row 1, length, size, shownValue",
    ],
    [
      "divisions",
      "UPDATE measurement SET divisions_text = '21' WHERE row_key = (SELECT key FROM specimen_row WHERE id = 'row-1')",
      "sheet S-0001, row 1, length, divisions",
    ],
    [
      "a reading with everything that follows from it",
      "UPDATE measurement SET left_typed = '40.0' WHERE row_key = (SELECT key FROM specimen_row WHERE id = 'row-1')",
      "sheet S-0001, row 1, as told by the trail, length, left",
    ],
    [
      "a strike that nobody made",
      "UPDATE specimen_row SET struck_at = '2026-03-02T09:00:00.000Z', struck_by = (SELECT id FROM person), struck_reason = 'x' WHERE id = 'row-1'; UPDATE sheet SET struck_count = 1",
      "sheet S-0001, row 1, struck",
    ],
    [
      "a row taken out",
      "DELETE FROM sheet_act_change; DELETE FROM measurement WHERE row_key = (SELECT key FROM specimen_row WHERE id = 'row-3'); DELETE FROM specimen_row WHERE id = 'row-3'",
      "sheet S-0001, number of rows",
    ],
    [
      "a factor",
      "UPDATE calibration SET result_json = json_set(result_json, '$.factor', '10.2')",
      ", factor",
    ],
    [
      "a line of a calibration's budget",
      "UPDATE calibration SET result_json = json_set(result_json, '$.budget[0].share', '0.5')",
      ", budget, 0, share",
    ],
    [
      "a setting",
      "UPDATE calibration SET settings_json = json_set(settings_json, '$[1].reticleRight', '96.40')",
      "as told by trail line 9, settings, 1, reticleRight",
    ],
    [
      "a size counted for the history of its label",
      "UPDATE sheet_size_bin SET n = n + 1",
      "sheet S-0001, history of grain, length",
    ],
    [
      "a certified error",
      "UPDATE certificate_line SET error = '0.2' WHERE ordinal = 2",
      "certificate C-1 of SM 1, line 2, error",
    ],
  ])("%s", async (_, sql, where) => {
    tamper(bench.paths.databaseFile, sql);
    const { differences } = await verify();
    expect(differences.map((one) => one.where).join("\n")).toContain(where);
  });

  it("shows the stored and the expected value of a tampered digit, and nothing else", async () => {
    tamper(
      bench.paths.databaseFile,
      "UPDATE measurement SET size_shown = '295.7' WHERE row_key = (SELECT key FROM specimen_row WHERE id = 'row-1')",
    );
    expect((await verify()).differences).toEqual([
      { where: "sheet S-0001, row 1, length, size, shownValue", stored: "295.7", expected: "295.6" },
    ]);
  });

  it.each([
    ["its detail", "detail = (SELECT detail FROM audit_line WHERE sequence = 10)"],
    ["its person, act and subject", "kind = (SELECT kind FROM audit_line WHERE sequence = 2)"],
    ["its instant", "at = at + 3600000"],
    ["its reason", "reason = 'another'"],
    ["its record", "subject_id = 'another'"],
    ["its model", "model = NULL"],
    ["its place among the amendments", "amends = iif(amends IS NULL, 1, NULL)"],
    ["its hash", `hash = zeroblob(32)`],
  ])("a line of the trail: %s", async (_, change) => {
    tamper(bench.paths.databaseFile, `UPDATE audit_line SET ${change} WHERE sequence = 11`);
    const { differences } = await verify();
    expect(differences.map((one) => one.where).join("\n")).toMatch(/^trail line 1[12], /m);
  });

  it("a line of the trail taken out", async () => {
    tamper(bench.paths.databaseFile, "DELETE FROM audit_line WHERE sequence = 12");
    const { differences } = await verify();
    expect(differences[0]).toMatchObject({ where: "trail line 12", stored: "no line" });
  });

  it("the last lines of the trail taken out", async () => {
    tamper(bench.paths.databaseFile, "DELETE FROM audit_line WHERE sequence >= 14");
    const { differences } = await verify();
    expect(differences.map((one) => one.where)).toEqual([
      expect.stringMatching(/^model \d+ of lines of the trail$/),
      "sheet S-0001, row 2, as told by the trail, length, right",
      "sheet S-0001, row 2, as told by the trail, length, enteredAt",
      "sheet S-0001, row 3, as told by the trail, width",
    ]);
  });
});

it("sees no difference while entry goes on", async () => {
  const report = verify();
  const more = Array.from({ length: 20 }, (_, i) => enterLength(bench, scene, `more-${i}`, "1", "50"));
  expect((await report).differences).toEqual([]);
  await Promise.all(more);
  expect(await verify()).toMatchObject({ measurements: 23, differences: [] });
});
