import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import type { Certificate } from "#core/contract/records/stage-micrometer.ts";
import { buildScene, calibrateTrain, enterLength } from "../../support/bench-scenes.ts";
import { tamper, withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { correctCertificate, type Story, tellStory, untilDone } from "../../support/traceability-scenes.ts";

// Hundreds of entries, each on disk before it is acknowledged: a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

const verify = async (bench: TempBench) => (await bench.call("trail.verify", {})).differences;

/* Step by step: every test goes on where the one before ended. */
describe("a re-evaluation of 300 results", () => {
  let bench: TempBench;
  let story: Story;
  let corrected: Certificate;
  let id: string;

  beforeAll(async () => {
    bench = await tempBench();
    story = await tellStory(bench);
    corrected = await correctCertificate(bench, story.scene);
  });
  afterAll(() => bench.end());

  const wanted = (change: object = {}) => ({
    requestId: bench.request(),
    reevaluation: {
      subject: { kind: "certificate" as const, id: story.scene.certificate.id },
      from: null,
      to: null,
      sheetIds: null,
      replacement: { kind: "certificate" as const, certificateId: corrected.id },
      reason: "the certificate was corrected",
      ...change,
    },
  });
  const converted = () =>
    withRawDatabase(bench.paths.databaseFile, (db) => ({
      now: db
        .prepare(
          `SELECT count(*) FROM measurement m JOIN measurement_calibration k ON k.id = m.calibration JOIN calibration c ON c.id = k.calibration_id
           WHERE c.certificate_id = '${corrected.id}'`,
        )
        .pluck()
        .get(),
      kept: db.prepare("SELECT count(*) FROM superseded_measurement").pluck().get(),
    }));

  it("of one sheet alone leaves the other as it is, and is answered once however often it is asked", async () => {
    const input = wanted({ sheetIds: [story.sheets[1].id] });
    const [one, other] = [
      await bench.call("reevaluations.begin", input),
      await bench.call("reevaluations.begin", input),
    ];
    expect(other.id).toBe(one.id);
    expect(await untilDone(bench, one.id)).toMatchObject({ state: "finished", total: 100, done: 100 });
    expect(converted()).toEqual({ now: 100, kept: 100 });
    const rows = await bench.call("rows.page", { sheetId: story.sheets[0].id, from: 1, count: 500 });
    const before = new Set(story.calibrations.map((one) => one.id));
    expect(rows.rows.every((row) => before.has(row.measurements[0]?.calibrationId ?? ""))).toBe(true);
    expect(await verify(bench)).toEqual([]);
  });

  it("of the rest is stopped, and closing the program in the middle loses nothing", async () => {
    const begun = await bench.call("reevaluations.begin", wanted());
    id = begun.id;
    expect(begun.total).toBe(200);
    expect(await bench.refusal("reevaluations.begin", wanted())).toMatchObject({ code: "reevaluation.busy" });
    const stopped = await bench.call("reevaluations.stop", { reevaluationId: id });
    expect(stopped.state).toBe("stopped");
    const [told] = await bench.call("trail.page", { before: null, count: 1 });
    expect(told).toMatchObject({ act: "reevaluations.stop", subjectId: id });
    expect(converted()).toEqual({ now: 100 + stopped.done, kept: 100 + stopped.done });
    await bench.call("reevaluations.resume", { reevaluationId: id });
    await bench.reopen();
    const after = await bench.call("reevaluations.status", { reevaluationId: id });
    expect(after.state).not.toBe("running");
    expect(converted()).toEqual({ now: 100 + after.done, kept: 100 + after.done });
    expect(await verify(bench)).toEqual([]);
  });

  it("found running after a power cut it waits, and says so at the start", async () => {
    await bench.program.close();
    withRawDatabase(bench.paths.databaseFile, (db) =>
      db.prepare("UPDATE reevaluation SET state = 'running', finished_at = NULL WHERE id = ?").run(id),
    );
    await bench.reopen();
    expect(bench.program.notices.join()).toContain("A re-evaluation was interrupted");
    expect(await bench.call("reevaluations.status", { reevaluationId: id })).toMatchObject({
      state: "stopped",
      trouble: "The program ended before it was finished.",
    });
  });

  it("resumed, it finishes; every result was converted once and the calibrations were not made again", async () => {
    await bench.call("reevaluations.resume", { reevaluationId: id });
    expect(await untilDone(bench, id)).toMatchObject({ state: "finished", done: 200 });
    expect(converted()).toEqual({ now: 300, kept: 300 });
    const approvals = await bench.call("calibrations.approvals", { trainId: null });
    expect(approvals.filter((one) => one.origin === "recalculated")).toHaveLength(3);
    expect(await verify(bench)).toEqual([]);
    expect(await bench.refusal("reevaluations.begin", wanted())).toMatchObject({
      code: "reevaluation.empty",
    });
  });

  it("a row amended after it keeps the new factor, and what was measured first is still there", async () => {
    const { sheets } = story;
    const row = await bench.call("rows.enter", {
      requestId: bench.request(),
      sheetId: sheets[0].id,
      rowId: "S-0001-5",
      cell: { dimension: "length", edge: "right" },
      typed: "30",
      label: "",
    });
    const made = (await bench.call("calibrations.list", { trainId: null })).find(
      (one) => one.id === row.measurements[0]?.calibrationId,
    );
    expect(made?.certificateId).toBe(corrected.id);
    expect(await bench.call("rows.superseded", { rowId: "S-0001-5" })).not.toHaveLength(0);
    expect(await verify(bench)).toEqual([]);
  });

  it.each([
    [
      "an old result",
      "UPDATE superseded_measurement SET size_um = '1' WHERE id = 7",
      /superseded result 7 of row|slice \d+, results kept/,
    ],
    [
      "the record of an old result",
      'UPDATE superseded_measurement SET measurement_json = replace(measurement_json, \'"left":"\', \'"left":"1\') WHERE id = 9',
      /slice \d+, results kept/,
    ],
    [
      "the calibration of a converted row",
      "UPDATE measurement SET calibration = (SELECT k.id FROM calibration_recalculation o JOIN measurement_calibration n ON n.calibration_id = o.calibration_id JOIN measurement_calibration k ON k.calibration_id = o.from_calibration_id WHERE n.id = measurement.calibration) WHERE row_key = (SELECT key FROM specimen_row WHERE id = 'S-0001-9')",
      /sheet S-0001, row 9/,
    ],
    [
      "what a slice is said to cover",
      "UPDATE reevaluation_slice SET last_superseded_id = last_superseded_id - 1 WHERE ordinal = 1",
      /slice 1/,
    ],
  ])("%s changed behind the program's back is named", async (_, sql, where) => {
    const file = bench.paths.databaseFile;
    const backup = await bench.call("backups.make", { requestId: bench.request() });
    tamper(file, sql);
    const differences = await verify(bench);
    expect(differences.map((one) => one.where).join("\n")).toMatch(where);
    const restore = { requestId: bench.request(), fileName: backup.fileName, reason: "tampered with" };
    await bench.call("backups.restore", restore);
    expect(await verify(bench)).toEqual([]);
  });
});

describe("with another calibration of the same train", () => {
  it("results take its factor, and it must be one that was in force", async () => {
    const bench = await tempBench();
    const scene = await buildScene(bench);
    const first = await calibrateTrain(bench, scene);
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    const second = await calibrateTrain(bench, scene, { right: "98" });
    const begin = (calibrationId: string) => ({
      requestId: bench.request(),
      reevaluation: {
        subject: { kind: "calibration" as const, id: first.id },
        from: null,
        to: null,
        sheetIds: null,
        replacement: { kind: "calibration" as const, calibrationId },
        reason: "the first one read the wrong line",
      },
    });
    expect(await bench.refusal("reevaluations.begin", begin("none"))).toMatchObject({
      code: "replacement.unknown",
    });
    expect(await bench.refusal("reevaluations.begin", begin(first.id))).toMatchObject({
      code: "replacement.unusable",
    });
    const begun = await bench.call("reevaluations.begin", begin(second.id));
    await untilDone(bench, begun.id);
    const { rows } = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 });
    expect(rows[0]?.measurements[0]?.calibrationId).toBe(second.id);
    // 28.5 div at 1000/98 µm/div by hand; the misalignment allowed by default adds 0.01 %.
    expect(Number(rows[0]?.measurements[0]?.size?.value)).toBeCloseTo((28.5 * 1000) / 98, 1);
    // As a full disk leaves it: nobody at work on it, and it could not be marked as stopped.
    withRawDatabase(bench.paths.databaseFile, (db) =>
      db.prepare("UPDATE reevaluation SET state = 'running', finished_at = NULL").run(),
    );
    await bench.call("reevaluations.resume", { reevaluationId: begun.id });
    expect(await untilDone(bench, begun.id)).toMatchObject({ state: "finished", done: 1 });
    expect(await bench.call("calibrations.list", { trainId: null })).toHaveLength(2);
    expect(await verify(bench)).toEqual([]);
    await bench.end();
  });
});
