import { describe, expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import { defaultTypedConditions } from "#core/calibration/default-conditions.ts";
import { factorRecordOf } from "#core/calibration/factor-record.ts";
import { readCalibration } from "#core/calibration/typed-calibration.ts";
import { withWorkingFactor } from "#core/calibration/working-factor.ts";
import type { FactorRecord } from "#core/contract/records/calibration.ts";
import type { TypedReadingConditions } from "#core/contract/records/method.ts";
import type { Measurement, RepeatReading } from "#core/contract/records/sheet.ts";
import type { Certificate } from "#core/contract/records/stage-micrometer.ts";
import { factorByHand, sizeByHand } from "#core/measurement/by-hand.ts";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { previewReadings } from "#core/measurement/typed-reading.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { FactorEstimator } from "#core/vocabulary/calibration.ts";

const stored = (text: string) => textOfDecimal(decimal(text));
const MICROMETER = { scaleLengthUm: stored("1000"), divisions: 1000 };

function certificate(errorAtEnd: string): Certificate {
  return {
    id: "c",
    stageMicrometerId: "m",
    number: "invented",
    laboratory: "invented",
    accreditation: "",
    calibratedOn: "2026-01-01",
    dueOn: "2028-01-01",
    dueReason: "invented",
    temperature: "20",
    sign: "certified-minus-nominal",
    lines: [
      { nominal: "0", error: "0" },
      { nominal: "1000", error: errorAtEnd },
    ],
    expandedUncertainty: "0.3",
    coverageFactor: "2",
    registeredAt: "2026-01-02T10:00:00.000Z",
  } as unknown as Certificate;
}

interface Case {
  readonly pairs: readonly (readonly [line: string, divisions: string])[];
  readonly estimator: FactorEstimator;
  readonly temperature?: string;
  readonly angle?: string;
  readonly errorAtEnd?: string;
}

function calibration({ pairs, estimator, temperature = "20", angle = "0", errorAtEnd = "0" }: Case) {
  const typed = {
    settings: pairs.map(([line, divisions]) => ({
      reticleLeft: "0",
      reticleRight: divisions,
      lineLeft: "0",
      lineRight: line,
    })),
    conditions: { ...defaultTypedConditions(), temperature, alignmentHalfAngle: angle },
    estimator,
    coverage: "t95" as const,
  };
  const input = readCalibration({ ...typed, scale: certificate(errorAtEnd), linePitchUm: "1" });
  return { ...typed, certificate: certificate(errorAtEnd), result: factorRecordOf(calibrate(input)) };
}

const TEN: Case = {
  pairs: [
    ["800", "80.6"],
    ["800", "80.4"],
    ["600", "60.5"],
  ],
  estimator: "origin-regression",
};

const reading = (
  number: number,
  left: string | null,
  right: string | null,
  direct: string | null = null,
) => ({
  number,
  left,
  right,
  direct,
});

function measured(
  readings: readonly RepeatReading[],
  factor: FactorRecord,
  typed: TypedReadingConditions,
  inParts = false,
) {
  const dimensions = [{ key: "length", name: "Length", ...(inParts && { parts: 5 }) }];
  const definition = { dimensions, reading: typed, coverage: "t95", rounding: "half-even" } as const;
  const { divisions, size } = previewReadings(readings, { dimension: "length", factor, definition });
  const [first, ...repeats] = readings;
  const measurement = {
    dimension: "length",
    left: first?.left ?? null,
    right: first?.right ?? null,
    direct: first?.direct ?? null,
    entry: first?.direct ? "direct" : "two-edges",
    repeats,
    divisions: divisions && textOfDecimal(divisions),
    size,
  } as unknown as Measurement;
  return { measurement, definition };
}

/** Relative difference of what a reviewer gets from the printed digits and what is printed as the outcome. */
const off = (got: number, printed: string): number => Math.abs(got / Number(printed) - 1);

describe("a size recomputed by hand", () => {
  const { result } = calibration(TEN);
  const plain = defaultTypedReadingConditions();
  it.each([
    ["one reading of two edges", [reading(1, "23.0", "51.5")], plain],
    ["a reading the wrong way round", [reading(1, "51.5", "23.0")], plain],
    ["a reading read directly", [reading(1, null, null, "20.5")], plain],
    [
      "three readings",
      [reading(1, "1.2", "9.9"), reading(2, "1.3", "9.8"), reading(3, "1.2", "10.1")],
      plain,
    ],
    ["an angle of 5 degrees", [reading(1, "2", "62")], { ...plain, alignmentHalfAngle: "5" }],
    [
      "parallel edges at an angle",
      [reading(1, "2", "62")],
      { ...plain, alignmentHalfAngle: "5", ends: "parallel-edges" as const },
    ],
  ])("from the printed digits alone gives size, U and the rounded result: %s", (_, readings, typed) => {
    const { measurement, definition } = measured(readings, result, typed);
    const hand = sizeByHand(measurement, result, definition);
    if (!hand) throw new Error("a size");
    const each = hand.readings.map(({ working, divisions }) => {
      if (working === null) return Number(divisions);
      const [to = Number.NaN, from = Number.NaN] = working.split(" − ").map(Number);
      expect(to - from).toBeCloseTo(Number(divisions), 10);
      return to - from;
    });
    const mean = each.reduce((sum, one) => sum + one, 0) / each.length;
    expect(off(mean, hand.divisions)).toBeLessThan(1e-7);
    const size = Number(hand.divisions) * Number(hand.factor) * Number(hand.alignment ?? 1);
    expect(off(size, hand.size)).toBeLessThan(1e-7);
    const squares = hand.contributions.map((line) => {
      expect(Number(line.contribution)).toBeCloseTo(Number(line.u) * Number(line.sensitivity), 6);
      return Number(line.contribution) ** 2;
    });
    const sum = squares.reduce((total, one) => total + one, 0);
    expect(off(sum, hand.sumOfSquares)).toBeLessThan(1e-6);
    const expanded = Number(hand.coverageFactor) * Math.sqrt(sum);
    expect(off(expanded, hand.expandedUncertainty)).toBeLessThan(1e-6);
    const places = hand.shownValue.split(".")[1]?.length ?? 0;
    expect(size.toFixed(places)).toBe(hand.shownValue);
    expect(hand.agrees).toBe(true);
  });

  it("adds up the parts of a curved object", () => {
    const readings = [reading(1, "1.0", "9.5"), reading(2, "3.0", "8.25")];
    const { measurement, definition } = measured(readings, result, plain, true);
    const hand = sizeByHand(measurement, result, definition);
    expect(hand?.together).toBe("sum of the parts");
    expect(hand?.divisions).toBe("13.75");
    expect(off(13.75 * Number(result.factor) * Number(hand?.alignment ?? 1), hand?.size ?? "")).toBeLessThan(
      1e-7,
    );
    expect(hand?.agrees).toBe(true);
  });

  it("says where the angle was taken into account, and only there", () => {
    const of = (typed: TypedReadingConditions) => {
      const { measurement, definition } = measured([reading(1, "2", "62")], result, typed);
      return sizeByHand(measurement, result, definition)?.alignment;
    };
    expect(of({ ...plain, alignmentHalfAngle: "0" })).toBeNull();
    expect(Number(of({ ...plain, alignmentHalfAngle: "5" }))).toBeGreaterThan(1);
    expect(Number(of({ ...plain, alignmentHalfAngle: "5", ends: "parallel-edges" }))).toBeLessThan(1);
  });

  it("does not agree with a recorded size that the readings do not give", () => {
    const { measurement, definition } = measured([reading(1, "23.0", "51.5")], result, plain);
    const changed = { ...measurement, left: "23.1" };
    expect(sizeByHand(changed, result, definition)?.agrees).toBe(false);
    expect(sizeByHand({ ...measurement, size: null }, result, definition)).toBeNull();
  });
});

describe("a factor recomputed by hand", () => {
  it.each<[string, Case]>([
    ["sums of squares and products", TEN],
    ["the mean of ratios", { ...TEN, estimator: "mean-of-ratios" }],
    [
      "a warm room, an angle and a certified error",
      { ...TEN, temperature: "27", angle: "3", errorAtEnd: "0.8" },
    ],
  ])("from the printed digits alone gives the factor: %s", (_, one) => {
    const made = calibration(one);
    const hand = factorByHand(made, MICROMETER, made.certificate);
    const sums = { square: 0, product: 0, ratio: 0 };
    for (const line of hand.settings) {
      expect(off(Number(line.nominal) + Number(line.correction), line.length)).toBeLessThan(1e-7);
      const [length, divisions] = [Number(line.length), Number(line.divisions)];
      sums.square += length ** 2;
      sums.product += length * divisions;
      sums.ratio += length / divisions;
    }
    for (const key of ["square", "product", "ratio"] as const) {
      expect(off(sums[key], hand.sums[key])).toBeLessThan(1e-6);
    }
    const plain =
      one.estimator === "origin-regression" ? sums.square / sums.product : sums.ratio / hand.settings.length;
    expect(off(plain, hand.plain)).toBeLessThan(1e-6);
    expect(off(Number(hand.plain) * Number(hand.conditions ?? 1), hand.exact)).toBeLessThan(1e-7);
    expect(off(Number(made.result.factor), hand.exact)).toBeLessThan(1e-7);
    expect(hand.conditions === null).toBe(one.temperature === undefined);
    expect(hand.working).toBeNull();
  });

  // NIST, Statistical Reference Datasets, Linear Regression, NoInt1: y on x through the origin, b = 2.07438016528926.
  it("is the reciprocal of the certified slope of NIST's NoInt1", () => {
    const pairs = Array.from({ length: 11 }, (_, at): [string, string] => [`${60 + at}`, `${130 + at}`]);
    const made = calibration({ pairs, estimator: "origin-regression" });
    expect(off(1 / 2.07438016528926, factorByHand(made, MICROMETER, made.certificate).plain)).toBeLessThan(
      1e-7,
    );
  });

  it("names the working factor that took the place of the exact one", () => {
    const made = calibration(TEN);
    const rounded = { ...made, result: withWorkingFactor(made.result, 1, "t95") };
    const hand = factorByHand(rounded, MICROMETER, made.certificate);
    expect(hand.working).toBe("9.9");
    expect(hand.exact).toMatch(/^9\.9\d{5,}/);
  });
});
