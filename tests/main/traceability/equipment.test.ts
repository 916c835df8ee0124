import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import {
  buildScene,
  calibrateTrain,
  enterLength,
  type Scene,
  trainOfPosition,
} from "../../support/bench-scenes.ts";
import { tamper } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { as, correctCertificate, reevaluateWith } from "../../support/traceability-scenes.ts";

// Hundreds of entries, each on disk before it is acknowledged: a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
});
afterEach(() => bench.end());

const status = async (position = 1) => {
  const { id } = trainOfPosition(scene, position);
  const overview = await bench.call("bench.overview", {});
  return overview.microscopes[0]?.trains.find((one) => one.train.id === id);
};
const objectiveId = (position: number) =>
  scene.microscope.objectives.find((one) => one.position === position)?.id ?? "";
const event = (change: object = {}) => ({
  requestId: bench.request(),
  event: {
    kind: "knocked" as const,
    subject: { kind: "microscope" as const, id: scene.microscope.id },
    happenedOn: "2026-03-02",
    words: "fell against the wall",
    ...change,
  },
});
const check = (right = "96.4", change: object = {}) => ({
  requestId: bench.request(),
  check: {
    trainId: trainOfPosition(scene, 1).id,
    stageMicrometerId: scene.micrometer.id,
    certificateId: scene.certificate.id,
    settings: [{ reticleLeft: "0", reticleRight: right, lineLeft: "0", lineRight: "100" }],
    temperature: "",
    remark: "",
    ...change,
  },
});
const lastFlags = async (rowId: string) =>
  (await enterLength(bench, scene, rowId, "10", "60")).measurements[0]?.flags;

describe("an event marks the trains it touches until a check or a calibration after it", () => {
  it("a knock of the stand, cleared by a passed check", async () => {
    expect((await status())?.state).toBe("ready");
    const recorded = await bench.call("events.record", event());
    expect(recorded.openTrainIds).toEqual(scene.trains.map((one) => one.id));
    expect(await status()).toMatchObject({ state: "check before use" });
    expect((await status())?.why).toContain("fell against the wall");
    expect(await lastFlags("row-1")).toContain("check-before-use");
    const { result } = await bench.call("checks.record", check());
    expect(result).toMatchObject({ passed: true, compared: "occasion", difference: "0" });
    expect((await status())?.state).toBe("ready");
    expect(await lastFlags("row-2")).not.toContain("check-before-use");
    const [listed] = await bench.call("events.list", { microscopeId: scene.microscope.id });
    expect(listed?.openTrainIds).toEqual([trainOfPosition(scene, 2).id]);
  });

  it("of one objective, cleared by a calibration begun after it", async () => {
    const subject = { kind: "objective" as const, id: objectiveId(1) };
    await bench.call("events.record", event({ kind: "serviced", subject, words: "cleaned by the maker" }));
    expect((await status(1))?.state).toBe("check before use");
    expect((await status(2))?.state).toBe("not calibrated");
    await calibrateTrain(bench, scene);
    expect((await status(1))?.state).toBe("ready");
  });

  it("not by a calibration whose draft was begun before it", async () => {
    const draft = await bench.call("calibrations.begin", {
      requestId: bench.request(),
      calibration: {
        trainId: trainOfPosition(scene, 1).id,
        stageMicrometerId: scene.micrometer.id,
        certificateId: scene.certificate.id,
      },
    });
    await bench.call("events.record", event());
    const settings = [{ reticleLeft: "0", reticleRight: "96.4", lineLeft: "0", lineRight: "100" }];
    const { conditions, estimator, coverage, remark } = draft;
    const kept = { calibrationId: draft.id, settings, conditions, estimator, coverage, remark };
    await bench.call("calibrations.keepDraft", kept);
    await bench.call("calibrations.putInForce", {
      requestId: bench.request(),
      calibrationId: draft.id,
      dueOn: "2027-03-01",
      reason: "was under way",
    });
    expect((await status())?.state).toBe("check before use");
  });

  it("of a later day than the last calibration, told afterwards", async () => {
    bench.clock.set("2026-03-10T09:00:00.000Z");
    await bench.call("events.record", event({ happenedOn: "2026-03-05" }));
    expect((await status())?.state).toBe("check before use");
    bench.clock.set("2026-03-11T09:00:00.000Z");
    await bench.call("events.record", event({ happenedOn: "2026-03-01", words: "an old knock came out" }));
    await bench.call("checks.record", check());
    expect((await status())?.state).toBe("ready");
  });

  it("but none of tomorrow, and of nothing unknown", async () => {
    expect(await bench.refusal("events.record", event({ happenedOn: "2026-03-03" }))).toMatchObject({
      code: "input.invalid",
      field: "event.happenedOn",
    });
    expect(
      await bench.refusal("events.record", event({ subject: { kind: "eyepiece", id: "none" } })),
    ).toMatchObject({ code: "item.unknown" });
  });
});

describe("a quick check", () => {
  it("fails beyond the limit, keeps its own record and marks the train until one passes", async () => {
    const failed = await bench.call("checks.record", check("95.4"));
    expect(failed.result.passed).toBe(false);
    // 96.4/95.4 − 1 by hand.
    expect(Number(failed.result.relativeDifference)).toBeCloseTo(1 / 95.4, 10);
    expect(Number(failed.result.ratio)).toBeGreaterThan(1);
    expect((await status())?.why).toContain("failed");
    const passed = await bench.call("checks.record", check());
    expect((await status())?.state).toBe("ready");
    expect(await bench.call("checks.list", { trainId: null })).toEqual([passed, failed]);
    expect(await bench.call("trail.verify", {})).toMatchObject({ checks: 2, differences: [] });
  });

  it("against another certificate counts the whole of both uncertainties", async () => {
    const corrected = await correctCertificate(bench, scene);
    const { result } = await bench.call("checks.record", check("96.4", { certificateId: corrected.id }));
    expect(result).toMatchObject({ compared: "whole" });
    expect(Number(result.relativeDifference)).toBeCloseTo(0.004, 10);
    expect(await bench.refusal("checks.record", check())).toMatchObject({ code: "certificate.replaced" });
  });

  it("without a factor, through another objective, or with a slip of the keypad is refused", async () => {
    const other = check("96.4", { trainId: trainOfPosition(scene, 2).id });
    expect(await bench.refusal("checks.record", other)).toMatchObject({ code: "factor.missing" });
    expect(await bench.refusal("checks.record", check("25"))).toMatchObject({ code: "check.implausible" });
    expect(await bench.refusal("checks.record", check("9e9"))).toMatchObject({
      code: "input.invalid",
      field: "check.settings.0.reticleRight",
    });
    expect(await bench.call("checks.list", { trainId: null })).toEqual([]);
  });
});

describe("a mistaken check", () => {
  const HIGH = { position: 2, right: "99.2", lineRight: "25" } as const;

  it("is recorded with its likely cause: the 40× checked as the 10× is refused with the cause, ten divisions kept", async () => {
    await calibrateTrain(bench, scene, HIGH);
    const refusal = await bench.refusal(
      "checks.record",
      check("99.2", {
        settings: [{ reticleLeft: "0", reticleRight: "99.2", lineLeft: "0", lineRight: "25" }],
      }),
    );
    expect(refusal).toMatchObject({ code: "check.implausible" });
    expect(refusal?.hint).toContain("The ratio is that of objective 40× at position 2");
    const slip = await bench.call("checks.record", check("86.4"));
    expect(slip.result.suspects?.[0]?.cause).toContain("10 divisions fewer");
  });

  it("is withdrawn with a reason and takes state, due date, trend and open events along", async () => {
    await bench.call("laboratory.change", {
      requestId: bench.request(),
      settings: {
        ...(await bench.call("laboratory.settings", {})),
        checkIntervalDays: 7,
        checkIntervalReason: "weekly",
      },
      reason: "procedure 3",
    });
    const trainId = trainOfPosition(scene, 1).id;
    const dueCheck = async () =>
      (await bench.call("due.list", { withinDays: 400 })).items.find(
        (one) => one.kind === "check" && one.trainId === trainId,
      )?.dueOn;
    const due = await dueCheck();
    bench.clock.set("2026-03-05T09:00:00.000Z");
    await bench.call("events.record", event());
    const passed = await bench.call("checks.record", check());
    bench.clock.set("2026-03-05T10:00:00.000Z");
    const failed = await bench.call("checks.record", check("86.4"));
    expect((await status())?.why).toContain("failed");
    const withdraw = (checkId: string) => ({
      requestId: bench.request(),
      checkId,
      reason: "read with the wrong objective",
    });
    const request = withdraw(failed.id);
    const withdrawn = await bench.call("checks.withdraw", request);
    expect(withdrawn.withdrawn).toMatchObject({ reason: "read with the wrong objective" });
    expect(await bench.call("checks.withdraw", request)).toEqual(withdrawn);
    expect((await status())?.state).toBe("ready");
    expect(await bench.refusal("checks.withdraw", withdraw(failed.id))).toMatchObject({
      code: "check.withdrawn",
    });
    expect(await bench.refusal("checks.withdraw", withdraw("none"))).toMatchObject({ code: "check.unknown" });
    expect(await dueCheck()).not.toBe(due);
    await bench.call("checks.withdraw", withdraw(passed.id));
    expect(await dueCheck()).toBe(due);
    expect((await status())?.why).toContain("fell against the wall");
    const trend = await bench.call("trends.train", { trainId });
    expect(trend.checks.map((one) => one.withdrawn)).toEqual([
      "read with the wrong objective",
      "read with the wrong objective",
    ]);
    const lines = (await bench.call("trail.verify", {})).differences;
    expect(lines).toEqual([]);
  });
});

describe("a check withdrawn and the flags of what was read since", () => {
  const flagsOf = async (sheetId: string, rowId: string) =>
    (await bench.call("rows.page", { sheetId, from: 1, count: 100 })).rows.find((row) => row.id === rowId)
      ?.measurements[0]?.flags;
  const withdraw = (checkId: string) =>
    bench.call("checks.withdraw", { requestId: bench.request(), checkId, reason: "the 40× was in the path" });
  const differences = async () => (await bench.call("trail.verify", {})).differences;

  it("go with a failed one, on a closed sheet as an amendment, and stay where a knock asks for a check too", async () => {
    bench.clock.set("2026-03-05T09:00:00.000Z");
    await enterLength(bench, scene, "row-before", "10", "60");
    const failed = await bench.call("checks.record", check("86.4"));
    bench.clock.set("2026-03-05T10:00:00.000Z");
    expect(await lastFlags("row-mistaken")).toContain("check-before-use");
    bench.clock.set("2026-03-06T09:00:00.000Z");
    await bench.call("events.record", event({ happenedOn: "2026-03-06" }));
    bench.clock.set("2026-03-06T10:00:00.000Z");
    expect(await lastFlags("row-knocked")).toContain("check-before-use");
    const sheetId = scene.sheet.id;
    await bench.call("sheets.close", { requestId: bench.request(), sheetId, words: "done" });
    const reviewer = await bench.call("people.register", {
      requestId: bench.request(),
      person: { name: "Rey Viewer", initials: "RV", interpupillaryMm: "" },
    });
    await as(bench, reviewer.id, () =>
      bench.call("sheets.review", { requestId: bench.request(), sheetId, words: "" }),
    );
    expect((await bench.call("sheets.signOffs", { sheetId })).state).toBe("reviewed");
    bench.clock.set("2026-03-07T09:00:00.000Z");
    await withdraw(failed.id);
    expect(await flagsOf(sheetId, "row-mistaken")).not.toContain("check-before-use");
    expect(await flagsOf(sheetId, "row-before")).not.toContain("check-before-use");
    expect(await flagsOf(sheetId, "row-knocked")).toContain("check-before-use");
    expect((await bench.call("sheets.signOffs", { sheetId })).state).toBe("closed");
    const told = await bench.call("trail.page", { before: null, count: 20 });
    expect(told.find((line) => line.act === "sheets.flagsFollowed")).toMatchObject({
      subjectId: sheetId,
      reason: "the 40× was in the path",
    });
    expect(
      told.filter((line) => line.subject === "specimen_row" && line.act === "checks.withdraw"),
    ).toHaveLength(1);
    expect(await differences()).toEqual([]);
    tamper(
      bench.paths.databaseFile,
      `UPDATE measurement SET flags_json = '["check-before-use"]' WHERE row_key = (SELECT key FROM specimen_row WHERE id = 'row-mistaken')`,
    );
    expect(JSON.stringify(await differences())).toContain("flags");
  });

  it("come where only the check withdrawn had made the train fit again", async () => {
    bench.clock.set("2026-03-05T08:00:00.000Z");
    await bench.call("events.record", event());
    bench.clock.set("2026-03-05T09:00:00.000Z");
    const passed = await bench.call("checks.record", check());
    bench.clock.set("2026-03-05T10:00:00.000Z");
    expect(await lastFlags("row-after")).not.toContain("check-before-use");
    await withdraw(passed.id);
    expect(await flagsOf(scene.sheet.id, "row-after")).toContain("check-before-use");
    expect(await differences()).toEqual([]);
  });
});

describe("out of service", () => {
  const set = (item: object, state: string) => ({
    requestId: bench.request(),
    item,
    state,
    from: "2026-03-02",
    reason: "scratched front lens",
  });

  it("an objective is neither ready nor chosen, and comes back with its reason on record", async () => {
    const item = { kind: "objective" as const, id: objectiveId(1) };
    await bench.call("registers.setServiceState", set(item, "out of service") as never);
    expect(await status()).toMatchObject({ state: "out of service" });
    expect((await status())?.why).toContain("scratched front lens");
    const choose = { requestId: bench.request(), sheetId: scene.sheet.id, objectiveId: item.id };
    expect(await bench.refusal("sheets.chooseObjective", choose)).toMatchObject({
      code: "item.out-of-service",
      field: "objectiveId",
    });
    expect(await bench.refusal("registers.setServiceState", set(item, "out of service"))).toMatchObject({
      code: "item.unchanged",
    });
    await bench.call("registers.setServiceState", set(item, "in service") as never);
    expect((await status())?.state).toBe("ready");
    const history = await bench.call("registers.history", item);
    expect(history.states.map((one) => one.state)).toEqual(["in service", "out of service"]);
    expect(history.lines.map((line) => line.act)).toContain("microscopes.register");
    expect(history.lines.map((line) => line.act)).toContain("calibrations.putInForce");
  });

  it("a stage micrometer calibrates nothing", async () => {
    const item = { kind: "stage micrometer", id: scene.micrometer.id };
    await bench.call("registers.setServiceState", set(item, "out of service") as never);
    expect(await bench.refusal("checks.record", check())).toMatchObject({ code: "item.out-of-service" });
    expect(await bench.call("registers.serviceStates", {})).toMatchObject([{ state: "out of service" }]);
  });
});

describe("due work", () => {
  const due = async (withinDays: number) => (await bench.call("due.list", { withinDays })).items;

  it("names what falls due with its interval and reason, oldest first", async () => {
    expect(await due(30)).toEqual([]);
    expect(await due(3000)).toMatchObject([
      {
        kind: "calibration",
        what: "10×/0.25 on Stand A",
        dueOn: "2027-03-01",
        daysLeft: 364,
        intervalDays: 364,
        reason: "yearly calibration",
      },
      { kind: "certificate", what: "certificate C-1 of SM 1", reason: "glass scale, kept clean" },
    ]);
    bench.clock.set("2027-03-05T09:00:00.000Z");
    expect(await bench.call("due.list", { withinDays: 0 })).toMatchObject({
      items: [{ kind: "calibration", daysLeft: -4 }],
      counts: { overdue: 1, within30: 0, within90: 0 },
    });
  });

  it("checks fall due once the laboratory has set an interval; a passed one moves the date", async () => {
    const settings = await bench.call("laboratory.settings", {});
    await bench.call("laboratory.change", {
      requestId: bench.request(),
      settings: { ...settings, checkIntervalDays: 7, checkIntervalReason: "weekly" },
      reason: "procedure 12",
    });
    expect(await due(7)).toMatchObject([{ kind: "check", dueOn: "2026-03-09", reason: "weekly" }]);
    bench.clock.set("2026-03-08T09:00:00.000Z");
    await bench.call("checks.record", check());
    expect(await due(7)).toMatchObject([{ kind: "check", dueOn: "2026-03-15" }]);
  });

  it("a train whose certificate was replaced is marked until it is re-evaluated with the corrected one", async () => {
    const corrected = await correctCertificate(bench, scene);
    expect(await status()).toMatchObject({ state: "check before use" });
    expect((await status())?.why).toContain("corrected a slip in the last line");
    expect(await status()).toMatchObject({ replacedCertificateId: scene.certificate.id });
    bench.clock.set("2026-03-09T09:00:00.000Z");
    const { items, counts } = await bench.call("due.list", { withinDays: 0 });
    expect(counts.overdue).toBe(1);
    expect(items).toMatchObject([
      {
        kind: "replaced certificate",
        id: scene.certificate.id,
        what: "replaced certificate behind 10×/0.25 on Stand A",
        daysLeft: -7,
        intervalDays: null,
      },
    ]);
    expect(items[0]?.reason).toContain("C-1a took the place of C-1: the laboratory corrected a slip");
    await reevaluateWith(bench, scene, corrected);
    expect(await status()).toMatchObject({ state: "ready", inForce: { certificateId: corrected.id } });
    expect((await status())?.replacedCertificateId).toBeNull();
    expect(await due(0)).toEqual([]);
  });

  it("a replaced certificate is not due any more", async () => {
    const corrected = await correctCertificate(bench, scene);
    const ids = (await due(3000)).filter((one) => one.kind === "certificate").map((one) => one.id);
    expect(ids).toContain(corrected.id);
    // The factor in force still rests on the old table, which is told by the forward view and not by a date.
    expect(ids).not.toContain(scene.certificate.id);
  });
});

describe("where the laboratory asks for confirmation", () => {
  it("a calibration is marked until another person has confirmed it", async () => {
    const settings = await bench.call("laboratory.settings", {});
    await bench.call("laboratory.change", {
      requestId: bench.request(),
      settings: { ...settings, confirmCalibrations: true },
      reason: "procedure 12",
    });
    expect((await status())?.state).toBe("not confirmed");
    const calibrationId = (await status())?.inForce?.id ?? "";
    const confirm = () => ({ requestId: bench.request(), calibrationId, words: "read the settings" });
    expect(await bench.refusal("calibrations.confirm", confirm())).toMatchObject({ code: "review.own-work" });
    const other = await bench.call("people.register", {
      requestId: bench.request(),
      person: { name: "Rey Viewer", initials: "", interpupillaryMm: "" },
    });
    await as(bench, other.id, () => bench.call("calibrations.confirm", confirm()));
    expect((await status())?.state).toBe("ready");
    expect(await bench.call("calibrations.approvals", { trainId: null })).toMatchObject([
      { origin: "measured", confirmationWanted: false, confirmation: { by: other.id } },
    ]);
  });
});
