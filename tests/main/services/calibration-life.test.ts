import { afterEach, beforeEach, describe, expect, it } from "vitest";
import {
  buildScene,
  calibrateTrain,
  enterLength,
  type Scene,
  trainOfPosition,
} from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

function begin() {
  return bench.call("calibrations.begin", {
    requestId: bench.request(),
    calibration: {
      trainId: trainOfPosition(scene, 1).id,
      stageMicrometerId: scene.micrometer.id,
      certificateId: scene.certificate.id,
    },
  });
}

function putInForce(calibrationId: string, dueOn = "2027-03-01") {
  return bench.refusal("calibrations.putInForce", {
    requestId: bench.request(),
    calibrationId,
    dueOn,
    reason: "yearly calibration",
  });
}

describe("a draft", () => {
  it("begins with defaults and the expansion of the micrometer's glass", async () => {
    const draft = await begin();
    expect(draft).toMatchObject({ state: "draft", settings: [], result: null, personId: scene.personId });
    // Soda-lime glass 9.1e-6 per kelvin, a typical handbook value; ± 1e-6 common practice, no source.
    expect(draft.conditions).toMatchObject({ expansion: "0.0000091", expansionHalfWidth: "0.000001" });
  });

  it("is continued rather than begun twice", async () => {
    expect((await begin()).id).toBe((await begin()).id);
  });

  it("keeps what cannot be read yet and refuses it only when put in force, at its field", async () => {
    const draft = await begin();
    const typed = { reticleLeft: "0", reticleRight: "9o", lineLeft: "0", lineRight: "" };
    const kept = await bench.call("calibrations.keepDraft", {
      calibrationId: draft.id,
      settings: [typed],
      conditions: draft.conditions,
      estimator: "mean-of-ratios",
      coverage: "k2",
      remark: "half done",
    });
    expect(kept).toMatchObject({ settings: [typed], estimator: "mean-of-ratios", remark: "half done" });
    await bench.reopen();
    expect(await bench.call("calibrations.get", { calibrationId: draft.id })).toEqual(kept);
    expect(await putInForce(draft.id)).toMatchObject({
      code: "calibration.incomplete",
      field: "settings.0.reticleRight",
    });
  });

  it("without any setting is incomplete", async () => {
    expect(await putInForce((await begin()).id)).toMatchObject({
      code: "calibration.incomplete",
      field: "settings",
    });
  });

  it("cannot be put in force with a due date that has passed", async () => {
    expect(await putInForce((await begin()).id, "2026-03-01")).toMatchObject({
      code: "input.invalid",
      field: "dueOn",
    });
  });

  it("with a factor far from the engraved one is refused, with the likely cause", async () => {
    // A quarter of nominal on the 10×: what the 40× of this turret would give.
    await expect(calibrateTrain(bench, scene, { right: "100", lineRight: "25" })).rejects.toThrow(
      /calibration\.implausible.*0\.250 times the 10\.00 µm\/div.*The 40×\/0\.65 of this turret was used/,
    );
    const [draft] = await bench.call("calibrations.list", { trainId: null });
    expect(draft).toMatchObject({ state: "draft", result: null });
  });
});

describe("in force", () => {
  it("supersedes the one before in the same act", async () => {
    const first = await calibrateTrain(bench, scene);
    const second = await calibrateTrain(bench, scene, { right: "98" });
    const list = await bench.call("calibrations.list", { trainId: first.trainId });
    expect(list.map((one) => [one.id, one.state])).toEqual([
      [second.id, "in force"],
      [first.id, "superseded"],
    ]);
    expect(list[1]).toMatchObject({
      endedBy: scene.personId,
      endReason: "Superseded by a new calibration: yearly calibration",
      result: first.result,
    });
    const lines = await bench.call("trail.page", { before: null, count: 2 });
    expect(lines.map((line) => [line.act, line.subjectId])).toEqual([
      ["calibrations.putInForce", second.id],
      ["calibrations.supersede", first.id],
    ]);
  });

  it("can be withdrawn once, with a reason; rows keep what they were converted with", async () => {
    const calibration = await calibrateTrain(bench, scene);
    const row = await enterLength(bench, scene, "row-1", "23.0", "51.5");
    const input = { requestId: bench.request(), calibrationId: calibration.id, reason: "wrong objective" };
    expect(await bench.call("calibrations.withdraw", input)).toMatchObject({
      state: "withdrawn",
      endReason: "wrong objective",
      result: calibration.result,
    });
    const again = { ...input, requestId: bench.request() };
    expect(await bench.refusal("calibrations.withdraw", again)).toMatchObject({ code: "calibration.closed" });
    const page = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 });
    expect(page.rows).toEqual([row]);
    const next = await enterLength(bench, scene, "row-2", "23.0", "51.5");
    expect(next.measurements[0]).toMatchObject({ size: null, calibrationId: null });
  });

  it("is closed to further typing", async () => {
    const { id, settings, conditions, estimator, coverage } = await calibrateTrain(bench, scene);
    const typed = { calibrationId: id, settings, conditions, estimator, coverage, remark: "late" };
    expect(await bench.refusal("calibrations.keepDraft", typed)).toMatchObject({
      code: "calibration.closed",
    });
    expect(await putInForce(id)).toMatchObject({ code: "calibration.closed" });
  });
});

describe("a working factor", () => {
  it("converts as the procedure rounds it, is checked against the exact one, and verifies", async () => {
    const { result } = await calibrateTrain(bench, scene, { workingPlaces: 1 });
    expect(result).toMatchObject({ factor: "10.4", shownFactor: "10.4", working: { places: 1 } });
    const exact = Number(result?.working?.factor);
    const row = await enterLength(bench, scene, "row-1", "10", "60");
    const size = row.measurements[0]?.size;
    expect(Number(size?.value)).toBeCloseTo(50 * 10.4, 9);
    expect(Number(size?.expandedUncertainty)).toBeGreaterThan(2 * 50 * Math.abs(10.4 - exact));
    const check = await bench.call("checks.record", {
      requestId: bench.request(),
      check: {
        trainId: trainOfPosition(scene, 1).id,
        stageMicrometerId: scene.micrometer.id,
        certificateId: scene.certificate.id,
        settings: [{ reticleLeft: "0", reticleRight: "96.4", lineLeft: "0", lineRight: "100" }],
        temperature: "",
        remark: "",
      },
    });
    expect(check.result).toMatchObject({ factorInForce: result?.working?.factor, difference: "0" });
    const { points } = await bench.call("trends.train", { trainId: trainOfPosition(scene, 1).id });
    expect(points[0]).toMatchObject({ factor: result?.working?.factor, shownFactor: "10.4" });
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("must leave something of the factor", async () => {
    const draft = await begin();
    await bench.call("calibrations.keepDraft", {
      calibrationId: draft.id,
      settings: [{ reticleLeft: "0", reticleRight: "99", lineLeft: "0", lineRight: "4" }],
      conditions: draft.conditions,
      estimator: draft.estimator,
      coverage: draft.coverage,
      remark: "",
    });
    const refused = await bench.refusal("calibrations.putInForce", {
      requestId: bench.request(),
      calibrationId: draft.id,
      dueOn: "2027-03-01",
      reason: "procedure 4",
      workingPlaces: 0,
    });
    expect(refused).toMatchObject({ code: "input.invalid", field: "workingPlaces" });
  });
});
