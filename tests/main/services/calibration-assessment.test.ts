import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { ASSESSMENT_RULE } from "#core/vocabulary/rules.ts";
import { buildScene, calibrateTrain, type Scene, trainOfPosition } from "../../support/bench-scenes.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { unguard } from "../../support/tampering.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

const row = (reticleRight: string) => ({ reticleLeft: "0", reticleRight, lineLeft: "0", lineRight: "100" });

/** A calibration from settings whose right readings these are. */
async function calibrated(...rights: readonly string[]) {
  const draft = await bench.call("calibrations.begin", {
    requestId: bench.request(),
    calibration: {
      trainId: trainOfPosition(scene, 1).id,
      stageMicrometerId: scene.micrometer.id,
      certificateId: scene.certificate.id,
    },
  });
  const { conditions } = draft;
  await bench.call("calibrations.keepDraft", {
    calibrationId: draft.id,
    settings: rights.map(row),
    conditions,
    estimator: "origin-regression",
    coverage: "t95",
    remark: "",
  });
  return bench.call("calibrations.putInForce", {
    requestId: bench.request(),
    calibrationId: draft.id,
    dueOn: "2027-03-01",
    reason: "yearly calibration",
  });
}

async function approvalOf(calibrationId: string) {
  const approvals = await bench.call("calibrations.approvals", { trainId: null });
  return approvals.find((one) => one.calibrationId === calibrationId);
}

const assess = (calibrationId: string) => ({
  requestId: bench.request(),
  calibrationId,
  reason: "older rule",
});

async function differences() {
  return (await bench.call("trail.verify", {})).differences;
}

describe("the repeatability of one setting", () => {
  it("is the stated default until there is something to pool, then the person's, frozen with the factor", async () => {
    const { personId } = scene;
    const nothing = await bench.call("calibrations.repeatability", { personId });
    expect(nothing).toEqual({ deviation: "0.2", degreesOfFreedom: "10", origin: "default", calibrations: 0 });
    const first = await calibrated("98.9");
    expect(first.result).toMatchObject({ rule: 2, pooled: nothing });
    const line = first.result?.budget.find((one) => one.key === "repeatability");
    expect(line).toMatchObject({ standardUncertainty: "0.2", degreesOfFreedom: "10" });
    // s = 0.1 of 98.9 99.0 99.1, twice, and of 98.9 99.1: √((2·0.01 + 2·0.01 + 0.02)/5).
    await calibrated("98.9", "99", "99.1");
    await calibrated("98.9", "99", "99.1");
    await calibrated("98.9", "99.1");
    const learnt = await bench.call("calibrations.repeatability", { personId });
    expect(learnt).toMatchObject({ origin: "person", degreesOfFreedom: "5", calibrations: 3 });
    expect(Number(learnt.deviation)).toBeCloseTo(Math.sqrt(0.06 / 5), 12);
    expect((await calibrated("99")).result?.pooled).toEqual(learnt);
    expect(await differences()).toEqual([]);
  });

  it("of another person is that of the bench, and of what was withdrawn it is nothing", async () => {
    const withdrawn = await calibrated("95", "99", "103", "99", "95", "103");
    await bench.call("calibrations.withdraw", {
      requestId: bench.request(),
      calibrationId: withdrawn.id,
      reason: "wrong lines",
    });
    expect(await bench.call("calibrations.repeatability", { personId: "nobody" })).toMatchObject({
      origin: "default",
    });
    await calibrated("98.9", "99", "99.1", "98.9", "99", "99.1");
    expect(await bench.call("calibrations.repeatability", { personId: "nobody" })).toMatchObject({
      origin: "bench",
      degreesOfFreedom: "5",
    });
  });

  it("is in a quick check of one setting, which a tenth or two then does not fail", async () => {
    await calibrateTrain(bench, scene);
    const check = await bench.call("checks.record", {
      requestId: bench.request(),
      check: {
        trainId: trainOfPosition(scene, 1).id,
        stageMicrometerId: scene.micrometer.id,
        certificateId: scene.certificate.id,
        settings: [row("96.7")],
        temperature: "",
        remark: "",
      },
    });
    expect(check.result).toMatchObject({ passed: true, pooled: { origin: "default" } });
    expect(await differences()).toEqual([]);
  });
});

describe("an assessment", () => {
  it("is kept when a calibration is put in force: repeats of the same lines find no distortion", async () => {
    const one = await calibrated("98.9", "99", "99.1", "99");
    const approval = await approvalOf(one.id);
    expect(approval?.assessments).toHaveLength(1);
    const [kept] = approval?.assessments ?? [];
    expect(kept).toMatchObject({
      rule: ASSESSMENT_RULE,
      outcome: "accept",
      single: false,
      remarks: [],
      earlierId: null,
      reason: "yearly calibration",
      by: scene.personId,
    });
    expect(kept?.findings.find(({ key }) => key === "halves")).toMatchObject({
      state: "not tested",
      words: expect.stringMatching(
        /^Not tested: all settings lie over the same divisions. To test it take \d+ settings/,
      ),
    });
  });

  it("says 'one setting only', and compares with the factor before", async () => {
    const first = await calibrated("99");
    const second = await calibrated("99");
    expect((await approvalOf(second.id))?.assessments[0]).toMatchObject({
      single: true,
      earlierId: first.id,
    });
  });

  it("made anew compares with the factor that still stands before it", async () => {
    const first = await calibrated("96.4");
    const second = await calibrated("96.5");
    await bench.call("calibrations.withdraw", {
      requestId: bench.request(),
      calibrationId: first.id,
      reason: "wrong lines",
    });
    const approval = await bench.call("calibrations.assess", assess(second.id));
    expect(approval.assessments.map(({ earlierId }) => earlierId)).toEqual([null, first.id]);
    expect(await differences()).toEqual([]);
  });

  it("is not made of a draft", async () => {
    const draft = await bench.call("calibrations.begin", {
      requestId: bench.request(),
      calibration: {
        trainId: trainOfPosition(scene, 1).id,
        stageMicrometerId: scene.micrometer.id,
        certificateId: scene.certificate.id,
      },
    });
    expect(await bench.refusal("calibrations.assess", assess(draft.id))).toMatchObject({
      code: "calibration.no-factor",
    });
  });

  it("of a calibration from before is made anew with a reason, kept beside the earlier one and told", async () => {
    const { id, result } = await calibrated("98.9", "99", "99.1");
    await bench.program.close();
    // As an older version of the rule left it.
    withRawDatabase(bench.paths.databaseFile, (database) => {
      unguard(database);
      database.exec(
        `UPDATE calibration_assessment SET assessment_json = json_set(assessment_json, '$.rule', ${ASSESSMENT_RULE + 1})`,
      );
    });
    await bench.reopen();
    const approval = await bench.call("calibrations.assess", assess(id));
    expect(approval.assessments.map(({ rule, reason }) => [rule, reason])).toEqual([
      [ASSESSMENT_RULE, "older rule"],
      [ASSESSMENT_RULE + 1, "yearly calibration"],
    ]);
    expect((await bench.call("calibrations.get", { calibrationId: id })).result).toEqual(result);
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(line).toMatchObject({ act: "calibrations.assess", subjectId: id, reason: "older rule" });
    // Only what was changed behind the program's back.
    expect((await differences()).map(({ where }) => where)).toEqual([
      expect.stringMatching(/^assessment 1 of calibration .*, assessment, rule$/),
    ]);
  });
});
