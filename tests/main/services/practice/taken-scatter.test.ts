import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { ChosenRepeatability } from "#core/vocabulary/repeatability-origin.ts";
import { buildScene, type Scene, trainOfPosition } from "../../../support/bench-scenes.ts";
import { trueReadings } from "../../../support/practice-reader.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

const SEED = 5113;
let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

/** Forty readings, each off by plus or minus `error` in turn. */
async function practise(error: number): Promise<void> {
  const { id } = await bench.call("practice.begin", {
    requestId: bench.request(),
    exercise: "tenths",
    seed: SEED,
  });
  for (const [index, truth] of trueReadings(SEED).entries()) {
    const off = index % 2 === 0 ? error : -error;
    await bench.call("practice.answer", {
      requestId: bench.request(),
      attemptId: id,
      ordinal: index + 1,
      typed: { reading: (truth + off).toFixed(1) },
    });
  }
}

async function draft(settings: number, repeatability?: ChosenRepeatability): Promise<CalibrationRecord> {
  const begun = await bench.call("calibrations.begin", {
    requestId: bench.request(),
    calibration: {
      trainId: trainOfPosition(scene, 1).id,
      stageMicrometerId: scene.micrometer.id,
      certificateId: scene.certificate.id,
    },
  });
  return bench.call("calibrations.keepDraft", {
    calibrationId: begun.id,
    settings: Array.from({ length: settings }, () => ({
      reticleLeft: "0.0",
      reticleRight: "96.4",
      lineLeft: "0",
      lineRight: "100",
    })),
    conditions: { ...begun.conditions, ...(repeatability && { repeatability }) },
    estimator: "origin-regression",
    coverage: "t95",
    remark: "",
  });
}

const inForce = (calibrationId: string) => ({
  requestId: bench.request(),
  calibrationId,
  dueOn: "2027-03-01",
  reason: "one setting for now",
  workingPlaces: null,
});
const scatters = () => bench.call("calibrations.scatters", { personId: scene.personId });

describe("the scatter of a person", () => {
  it("is known by origin, each with its degrees of freedom, and not before there is enough of it", async () => {
    expect(await scatters()).toEqual([]);
    await practise(0.2);
    const known = await scatters();
    expect(known).toMatchObject([{ origin: "practice", degreesOfFreedom: "39", calibrations: 1 }]);
    expect(Number(known[0]?.deviation)).toBeCloseTo(0.2 * Math.SQRT2, 1);
  });

  it("from practice is not taken by itself, though it is all that is known", async () => {
    await practise(0.2);
    const { id } = await draft(1);
    const record = await bench.call("calibrations.putInForce", inForce(id));
    expect(record.result?.pooled).toMatchObject({ origin: "default" });
  });

  it("is taken with one setting where it was asked for; the budget and the record name it, and verify recomputes it", async () => {
    await practise(0.2);
    const [practice] = await scatters();
    const { id } = await draft(1, "practice");
    const record = await bench.call("calibrations.putInForce", inForce(id));
    expect(record.result?.pooled).toEqual(practice);
    expect(record.result?.budget.map(({ name }) => name).join()).toContain("practice: pooled from 1 attempt");
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("asked for is not taken with more than one setting", async () => {
    await practise(0.2);
    const { id } = await draft(2, "practice");
    const record = await bench.call("calibrations.putInForce", inForce(id));
    expect(record.result?.pooled).toMatchObject({ origin: "default" });
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("asked for and not known is refused with words, and the draft is kept", async () => {
    const { id } = await draft(1, "practice");
    expect(await bench.refusal("calibrations.putInForce", inForce(id))).toMatchObject({
      code: "calibration.incomplete",
      field: "conditions.repeatability",
    });
    expect((await bench.call("calibrations.get", { calibrationId: id })).state).toBe("draft");
  });
});

it("repeat readings of specimens are an origin of their own", async () => {
  const method = await bench.call("methods.list", {});
  const [first] = method;
  if (!first) throw new Error("no method");
  const repeated = await bench.call("methods.define", {
    requestId: bench.request(),
    familyId: first.familyId,
    definition: { ...first.definition, repeats: 2 },
  });
  const { sample, note, microscopeId, eyepieceId, intermediateMagnification, objectiveId } = scene.sheet;
  const sheet = await bench.call("sheets.open", {
    requestId: bench.request(),
    sheet: {
      sample,
      note,
      methodId: repeated.id,
      microscopeId,
      eyepieceId,
      intermediateMagnification,
      objectiveId,
    },
  });
  for (let row = 1; row <= 6; row += 1) {
    for (const [repeat, right] of [
      [1, "51.5"],
      [2, "51.7"],
    ] as const) {
      for (const [edge, typed] of [
        ["left", "23.0"],
        ["right", right],
      ] as const) {
        await bench.call("rows.enter", {
          requestId: bench.request(),
          sheetId: sheet.id,
          rowId: `row-${row}`,
          cell: { dimension: "length", edge, repeat },
          typed,
          label: "grain",
        });
      }
    }
  }
  // By hand: 28.5 and 28.7 div have s = 0.2/√2 with one degree of freedom, six times.
  const [known, ...more] = await scatters();
  expect(more).toEqual([]);
  expect(known).toMatchObject({ origin: "repeat readings", degreesOfFreedom: "6", calibrations: 6 });
  expect(Number(known?.deviation)).toBeCloseTo(0.2 / Math.SQRT2, 12);
});

it("a method keeps whose scatter it takes, and the size read once names it in its budget", async () => {
  const [first] = await bench.call("methods.list", {});
  if (!first) throw new Error("no method");
  const source = "s = 0.28 div, ν = 39, practice: pooled from 1 attempt of Ada Example at a drawn eyepiece";
  const taken = await bench.call("methods.define", {
    requestId: bench.request(),
    familyId: first.familyId,
    definition: {
      ...first.definition,
      reading: {
        ...first.definition.reading,
        repeatability: "0.283",
        repeatabilityDegreesOfFreedom: "39",
        repeatabilitySource: source,
      },
    },
  });
  expect(taken.definition.reading.repeatabilitySource).toBe(source);
  expect(first.definition.reading).not.toHaveProperty("repeatabilitySource");
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
});
