import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallInput } from "#core/contract/calls.ts";
import { PLAIN_METHOD } from "#core/measurement/methods/plain-method.ts";
import { previewReadings } from "#core/measurement/typed-reading.ts";
import {
  buildScene,
  calibrateTrain,
  enter,
  enterLength,
  grainMethod,
  type Scene,
  trainOfPosition,
} from "../../support/bench-scenes.ts";
import { measurementDifferences } from "../../support/measurement-differences.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { correctCertificate, untilDone } from "../../support/traceability-scenes.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
});
afterEach(() => bench.end());

const objective = (position: number) =>
  scene.microscope.objectives.find((one) => one.position === position)?.id ?? "";

const at = () => ({ requestId: bench.request(), sheetId: scene.sheet.id });

const changeObjective = (
  rows: CallInput<"rows.changeObjective">["rows"],
  position: number,
  reason = "the 40× was in the path",
) => bench.call("rows.changeObjective", { ...at(), rows, objectiveId: objective(position), reason });

/** Another sheet of the same method, whose rows become the history of its labels. */
async function otherSheet(): Promise<Scene> {
  const { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId } =
    scene.sheet;
  const sheet = await bench.call("sheets.open", {
    requestId: bench.request(),
    sheet: { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId },
  });
  return { ...scene, sheet };
}

describe("readings of one dimension", () => {
  it("count as the mean of the complete ones, with their own scatter", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    await enter(bench, scene, "row-1", { dimension: "length", edge: "left", repeat: 2 }, "10,5");
    const half = await enter(bench, scene, "row-1", { dimension: "length", edge: "left", repeat: 3 }, "11");
    expect(half.measurements[0]).toMatchObject({ divisions: "20" });
    await enter(bench, scene, "row-1", { dimension: "length", edge: "right", repeat: 3 }, "32");
    const row = await enter(bench, scene, "row-1", { dimension: "length", edge: "right", repeat: 2 }, "31.5");
    const [length] = row.measurements;
    expect(length).toMatchObject({
      divisions: textOfThird,
      repeats: [
        { number: 2, left: "10,5", right: "31.5", direct: null },
        { number: 3, left: "11", right: "32", direct: null },
      ],
    });
    const calibration = await bench.call("calibrations.get", { calibrationId: length?.calibrationId ?? "" });
    const { size } = previewReadings(
      [{ number: 1, left: "10", right: "30", direct: null }, ...(length?.repeats ?? [])],
      { dimension: "length", factor: calibration.result ?? fail(), definition: grainMethod() },
    );
    expect(length?.size).toEqual(size);
    expect(await measurementDifferences(bench.paths.databaseFile)).toEqual([]);
  });

  it("of a dimension read in parts add up, and a part half-taken is flagged", async () => {
    const method = await bench.call("methods.define", {
      requestId: bench.request(),
      familyId: null,
      definition: {
        ...grainMethod(),
        name: "Worms",
        dimensions: [
          { key: "length", name: "Length", parts: 3 },
          { key: "width", name: "Width" },
        ],
      },
    });
    const { sample, note, microscopeId, eyepieceId, intermediateMagnification, objectiveId } = scene.sheet;
    const parts = { microscopeId, eyepieceId, intermediateMagnification, objectiveId };
    const sheet = await bench.call("sheets.open", {
      requestId: bench.request(),
      sheet: { sample, note, methodId: method.id, ...parts },
    });
    const worms = { ...scene, sheet };
    const take = (edge: "left" | "right", repeat: number, typed: string) =>
      enter(bench, worms, "worm-1", { dimension: "length", edge, repeat }, typed);
    await take("left", 1, "10");
    expect((await take("right", 1, "90")).measurements[0]).toMatchObject({ divisions: "80", flags: [] });
    const half = await take("left", 2, "12");
    expect(half.measurements[0]).toMatchObject({ divisions: "80", flags: ["part-unfinished"] });
    // The last part is short: what counts is the whole.
    const row = await take("right", 2, "17");
    expect(row.measurements[0]).toMatchObject({ divisions: "85", flags: [] });
    // The same span read at once is the same size; of two parts, each read on its own, u is larger, by √2 at most.
    const whole = await enterLength(bench, scene, "row-1", "5", "90");
    const [once, chain] = [whole, row].map(({ measurements: [one] }) => one?.size);
    expect(chain?.value).toBe(once?.value);
    const ratio = Number(chain?.standardUncertainty) / Number(once?.standardUncertainty);
    expect(ratio).toBeGreaterThan(1.05);
    expect(ratio).toBeLessThanOrEqual(Math.SQRT2);
    expect(await measurementDifferences(bench.paths.databaseFile)).toEqual([]);
    // Re-evaluated together with the dimension read whole, twice alike, both stay what they are.
    await enter(bench, worms, "worm-1", { dimension: "width", edge: "left" }, "10");
    await enter(bench, worms, "worm-1", { dimension: "width", edge: "right" }, "90");
    await enter(bench, worms, "worm-1", { dimension: "width", edge: "left", repeat: 2 }, "12");
    await enter(bench, worms, "worm-1", { dimension: "width", edge: "right", repeat: 2 }, "17");
    const corrected = await correctCertificate(bench, scene);
    const { id } = await bench.call("reevaluations.begin", {
      requestId: bench.request(),
      reevaluation: {
        subject: { kind: "certificate", id: scene.certificate.id },
        from: null,
        to: null,
        sheetIds: [sheet.id],
        replacement: { kind: "certificate", certificateId: corrected.id },
        reason: "the certificate was corrected",
      },
    });
    expect(await untilDone(bench, id)).toMatchObject({ state: "finished", done: 2 });
    const [after] = (await bench.call("rows.page", { sheetId: sheet.id, from: 1, count: 1 })).rows;
    expect(after?.measurements.map((one) => one.divisions)).toEqual(["85", "42.5"]);
    const [length, width] = (after?.measurements ?? []).map((one) => Number(one.size?.value));
    expect(Number(length) / Number(width)).toBeCloseTo(2, 12);
    expect(await measurementDifferences(bench.paths.databaseFile)).toEqual([]);
  });

  it("may be divisions, and are then of no other kind", async () => {
    const row = await enter(bench, scene, "row-1", { dimension: "length", edge: "direct" }, "28.50");
    expect(row.measurements[0]).toMatchObject({
      entry: "direct",
      direct: "28.50",
      divisions: "28.5",
      size: { shownValue: expect.stringMatching(/^295\.6/) },
    });
    const mixed = {
      ...at(),
      rowId: "row-1",
      cell: { dimension: "length", edge: "left" },
      typed: "1",
      label: "",
    };
    expect((await bench.refusal("rows.enter", mixed)).code).toBe("reading.mixed");
    await enterLength(bench, scene, "row-2", "10", "30");
    const other = {
      ...mixed,
      requestId: bench.request(),
      rowId: "row-2",
      cell: { dimension: "length", edge: "direct" },
    };
    expect((await bench.refusal("rows.enter", other)).code).toBe("reading.mixed");
    expect(await measurementDifferences(bench.paths.databaseFile)).toEqual([]);
  });

  it("keep half-typed text of each repeat by itself", async () => {
    const draft = { sheetId: scene.sheet.id, rowId: "row-1", typed: "4" };
    for (const repeat of [1, 2]) {
      const cell = { dimension: "length", edge: "left" as const, repeat };
      await bench.call("rows.keepDraft", { ...draft, cell });
    }
    await enter(bench, scene, "row-1", { dimension: "length", edge: "left", repeat: 2 }, "41");
    const { drafts } = await bench.call("sheets.get", { sheetId: scene.sheet.id });
    expect(drafts.map((one) => one.cell.repeat)).toEqual([1]);
  });
});

/** (20 + 21 + 21)/3 at 34 digits. */
const textOfThird = `20.${"6".repeat(31)}7`;

function fail(): never {
  throw new Error("the calibration has no result");
}

describe("a row", () => {
  it("keeps its place on the stage as typed, until it is said anew", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    const words = { rowId: "row-1", label: "Tilia 1", note: "" };
    const placed = await bench.call("rows.describe", {
      ...at(),
      ...words,
      stage: { x: "12,30", y: " 4.0 " },
    });
    expect(placed.stage).toEqual({ x: "12,30", y: "4.0" });
    const kept = await bench.call("rows.describe", { ...at(), ...words, note: "bent" });
    expect(kept).toMatchObject({ note: "bent", stage: { x: "12,30", y: "4.0" } });
    const none = await bench.call("rows.describe", { ...at(), ...words, stage: { x: " ", y: "" } });
    expect(none.stage).toBeNull();
    const bad = await bench.refusal("rows.describe", { ...at(), ...words, stage: { x: "left", y: "" } });
    expect(bad.field).toBe("stage.x");
  });

  it("is placed by the square of a finder slide too, alone or beside the verniers", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    const words = { rowId: "row-1", label: "Tilia 1", note: "" };
    const place = (stage: object) =>
      bench.call("rows.describe", { ...at(), ...words, stage: stage as never });
    expect((await place({ x: "", y: "", square: " M23 " })).stage).toEqual({ x: "", y: "", square: "M23" });
    expect((await place({ x: "1", y: "2", square: "m23" })).stage).toEqual({ x: "1", y: "2", square: "m23" });
    const found = (words: string) => bench.call("rows.placed", { sheetId: scene.sheet.id, words, count: 10 });
    expect(await found("M2")).toMatchObject({ total: 1, rows: [{ ordinal: 1, label: "Tilia 1" }] });
    expect((await found("M4")).total).toBe(0);
    expect((await place({ x: "1", y: "2", square: "" })).stage).toEqual({ x: "1", y: "2" });
    const undone = await bench.call("rows.undo", at());
    expect(undone.changed.rows[0]?.stage).toEqual({ x: "1", y: "2", square: "m23" });
    const bad = { ...at(), ...words, stage: { x: "", y: "", square: "23M" } };
    expect(await bench.refusal("rows.describe", bad)).toMatchObject({
      field: "stage.square",
      message: expect.stringContaining("one or two letters, then one to three digits"),
    });
  });
});

describe("another objective for rows that are there", () => {
  beforeEach(async () => {
    await calibrateTrain(bench, scene, { position: 2, right: "80", lineRight: "20" });
    for (const n of [1, 2, 3]) await enterLength(bench, scene, `row-${n}`, "10", `${30 + n}`);
  });

  it("derives them again with the factor in force, keeps the old results and says why", async () => {
    const before = (await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 9 })).rows;
    const changed = await changeObjective({ from: 2, to: 3 }, 2);
    expect(changed).toMatchObject({ count: 2, from: 2, to: 3, total: 3 });
    const [second] = changed.rows;
    expect(second?.measurements[0]).toMatchObject({
      left: "10",
      right: "32",
      trainId: trainOfPosition(scene, 2).id,
      size: { value: expect.stringMatching(/^55\.0/) },
    });
    const kept = await bench.call("rows.superseded", { rowId: "row-2" });
    expect(kept).toEqual([
      {
        measurement: before[1]?.measurements[0],
        at: expect.any(String),
        by: scene.personId,
        act: "rows.changeObjective",
        reason: "the 40× was in the path",
      },
    ]);
    const lines = await bench.call("trail.page", { before: null, count: 2 });
    expect(lines.map((line) => [line.act, line.subjectId, line.reason])).toEqual([
      ["rows.changeObjective", "row-3", "the 40× was in the path"],
      ["rows.changeObjective", "row-2", "the 40× was in the path"],
    ]);
    expect(await measurementDifferences(bench.paths.databaseFile)).toEqual([]);
    const undone = await bench.call("rows.undo", at());
    expect(undone).toMatchObject({ words: "the objective of 2 rows", changed: { rows: before.slice(1) } });
  });

  it("leaves a train without calibration its divisions", async () => {
    const third = await bench.call("microscopes.addObjective", {
      requestId: bench.request(),
      microscopeId: scene.microscope.id,
      objective: { position: 3, magnification: "63", numericalAperture: "", immersion: "dry", serial: "" },
    });
    const objectiveId = third.objectives.find((one) => one.position === 3)?.id ?? "";
    const changed = await bench.call("rows.changeObjective", {
      ...at(),
      rows: { ids: ["row-1"] },
      objectiveId,
      reason: "63× it was",
    });
    expect(changed.rows[0]?.measurements[0]).toMatchObject({
      divisions: "21",
      size: null,
      calibrationId: null,
      missing: expect.stringContaining("63×"),
    });
  });

  it("passes over struck rows of a range, and refuses one that is named", async () => {
    await bench.call("rows.strike", { ...at(), rowId: "row-2", reason: "broken" });
    expect((await changeObjective({ from: 1, to: 3 }, 2)).rows.map((row) => row.ordinal)).toEqual([1, 3]);
    const input = { objectiveId: objective(1), reason: "no, the 10×" };
    const named = { ...at(), rows: { ids: ["row-2"] }, ...input };
    expect((await bench.refusal("rows.changeObjective", named)).code).toBe("row.struck");
    const nowhere = { ...at(), rows: { from: 7, to: 9 }, ...input };
    expect((await bench.refusal("rows.changeObjective", nowhere)).code).toBe("row.unknown");
    const nothing = await changeObjective({ ids: ["row-1"] }, 2);
    expect(nothing).toMatchObject({ count: 0, rows: [] });
  });
});

describe("the train in use", () => {
  const seen = () => ({
    ...at(),
    objectiveId: objective(1),
    intermediateMagnification: scene.sheet.intermediateMagnification,
    interpupillary: "63,5",
  });

  it("is confirmed by a person, with the sheet from then on", async () => {
    expect(scene.sheet.lastConfirmed).toBeNull();
    const sheet = await bench.call("sheets.confirmTrain", seen());
    expect(sheet.lastConfirmed).toEqual({
      at: expect.any(String),
      by: scene.personId,
      objectiveId: objective(1),
      intermediateMagnification: "1",
      interpupillary: "63.5",
    });
    await bench.reopen();
    const again = await bench.call("sheets.get", { sheetId: scene.sheet.id });
    expect(again.sheet.lastConfirmed).toEqual(sheet.lastConfirmed);
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(line).toMatchObject({ act: "sheets.confirmTrain", subjectId: scene.sheet.id });
  });

  it("is not confirmed when another is in use, or with an impossible setting", async () => {
    const other = { ...seen(), objectiveId: objective(2) };
    expect(await bench.refusal("sheets.confirmTrain", other)).toMatchObject({
      code: "train.differs",
      field: "objectiveId",
    });
    const changer = { ...seen(), intermediateMagnification: "1.5" };
    expect((await bench.refusal("sheets.confirmTrain", changer)).field).toBe("intermediateMagnification");
    expect((await bench.refusal("sheets.confirmTrain", { ...seen(), interpupillary: "6" })).field).toBe(
      "interpupillary",
    );
  });
});

describe("a sheet by column", () => {
  it("has its labels once, its struck rows and its sizes, part by part", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    await enter(bench, scene, "row-2", { dimension: "width", edge: "left" }, "3");
    await enterLength(bench, scene, "row-3", "10", "32");
    await bench.call("rows.strike", { ...at(), rowId: "row-3", reason: "broken" });
    await bench.call("rows.describe", { ...at(), rowId: "row-2", label: "Tilia", note: "" });
    const { rows } = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 9 });
    const sizeOf = (i: number) => rows[i]?.measurements[0]?.size?.value;
    expect(await bench.call("sheets.columns", { sheetId: scene.sheet.id, from: 1, count: 2 })).toEqual({
      total: 3,
      from: 1,
      count: 2,
      labels: ["grain", "Tilia"],
      label: [0, 1],
      struck: [],
      sizes: { length: [sizeOf(0), null], width: [null, null] },
      flagSets: [[]],
      flags: { length: [0, null], width: [null, null] },
      factors: [
        {
          calibrationId: rows[0]?.measurements[0]?.calibrationId,
          relativeUncertainty: expect.stringMatching(/^0\.00\d+/),
          degreesOfFreedom: expect.stringMatching(/^\d/),
        },
      ],
      factor: { length: [0, null], width: [null, null] },
    });
    expect(await bench.call("sheets.columns", { sheetId: scene.sheet.id, from: 3, count: 2 })).toMatchObject({
      count: 1,
      struck: [3],
      sizes: { length: [sizeOf(2)] },
    });
  });
});

describe("the history of a label", () => {
  /** `count` rows of about 40 div (400 µm) under one label on another sheet. */
  async function history(count: number): Promise<Scene> {
    const other = await otherSheet();
    for (let i = 0; i < count; i += 1) {
      await enterLength(bench, other, `old-${i}`, "10", `${50 + (i % 5) / 10}`);
    }
    return other;
  }

  it("is what other sheets of the method hold, and follows strikes, labels and undo", async () => {
    const other = await history(21);
    await enterLength(bench, scene, "row-1", "10", "90");
    const [length] = await bench.call("sheets.history", { sheetId: scene.sheet.id });
    expect(length).toMatchObject({ label: "grain", dimension: "length", n: 21 });
    expect(Number(length?.low)).toBeGreaterThan(400);
    expect(Number(length?.median)).toBeCloseTo(417, -1);
    expect(Number(length?.high)).toBeLessThan(431);

    const onOther = { requestId: bench.request(), sheetId: other.sheet.id };
    await bench.call("rows.strike", { ...onOther, rowId: "old-0", reason: "broken" });
    const counts = async () =>
      (await bench.call("sheets.history", { sheetId: scene.sheet.id })).map((one) => [one.label, one.n]);
    expect(await counts()).toEqual([["grain", 20]]);
    const words = { label: "Tilia 7", note: "" };
    await bench.call("rows.describe", { ...onOther, requestId: bench.request(), rowId: "old-1", ...words });
    expect(await counts()).toEqual([
      ["Tilia", 1],
      ["grain", 19],
    ]);
    for (let i = 0; i < 2; i += 1) {
      await bench.call("rows.undo", { requestId: bench.request(), sheetId: other.sheet.id });
    }
    expect(await counts()).toEqual([["grain", 21]]);
    expect(await bench.call("sheets.history", { sheetId: other.sheet.id })).toMatchObject([{ n: 1 }]);
  });

  it("marks a size outside it, and the objective that would explain it", async () => {
    await calibrateTrain(bench, scene, { position: 2, right: "80", lineRight: "20" });
    await history(20);
    const usual = await enterLength(bench, scene, "row-1", "10", "50");
    expect(usual.measurements[0]?.flags).toEqual([]);
    // 16 div are 166 µm with the 10×; the 415 µm usual here would be 166 div of the 40×, no match: only unusual.
    const odd = await enterLength(bench, scene, "row-2", "10", "26");
    expect(odd.measurements[0]?.flags).toEqual(["outside-history"]);
    await bench.call("sheets.chooseObjective", { ...at(), objectiveId: objective(2) });
    // 40 div are 100 µm with the 40×, and the usual 415 µm with the 10×.
    const wrong = await enterLength(bench, scene, "row-3", "10", "50");
    expect(wrong.measurements[0]?.flags).toEqual(["wrong-objective", "outside-history"]);
  });
});

describe("a method with a wanted uncertainty", () => {
  it("marks the sizes that do not reach it", async () => {
    const method = await bench.call("methods.define", {
      requestId: bench.request(),
      familyId: null,
      definition: {
        ...grainMethod(),
        ...PLAIN_METHOD,
        name: "Exact",
        minimumDivisions: "",
        wantedPercent: "1",
      },
    });
    const { lastConfirmed: _, ...kept } = scene.sheet;
    const sheet = await bench.call("sheets.open", {
      requestId: bench.request(),
      sheet: {
        sample: kept.sample,
        note: "",
        methodId: method.id,
        microscopeId: kept.microscopeId,
        eyepieceId: kept.eyepieceId,
        intermediateMagnification: kept.intermediateMagnification,
        objectiveId: kept.objectiveId,
      },
    });
    const own = { ...scene, sheet };
    const short = await enterLength(bench, own, "row-1", "10", "30");
    expect(short.measurements[0]?.flags).toContain("uncertainty-not-met");
    const long = await enterLength(bench, own, "row-2", "10", "99");
    expect(long.measurements[0]?.flags).toEqual([]);
  });
});
