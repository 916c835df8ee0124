import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { MethodDefinition } from "#core/contract/records/method.ts";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { PLAIN_METHOD } from "#core/measurement/methods/plain-method.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { RunningSummary } from "#core/statistics/running-summary.ts";
import {
  liveBars,
  liveFigures,
  liveReport,
  MOST_REPORTED,
  wantedShare,
} from "#renderer/screens/measure/live-figures.ts";
import { SheetSummary } from "#renderer/screens/measure/sheet-summary.ts";
import { uncertaintyOfMean } from "#renderer/screens/measure/uncertainty-of-mean.ts";

const METHOD = { percentiles: { type: 7, lower: "10", upper: "90" }, rounding: "half-even" } as const;

function sampleOf(values: readonly (string | number)[]): RunningSummary {
  const sample = new RunningSummary();
  for (const value of values) sample.add(decimal(value));
  return sample;
}

describe("the figures of the panel", () => {
  it("are those of a sample worked by hand: 10, 12, 14 µm", () => {
    // s = 2; t(0.975; 2) = 4.30265 (any table of Student's t); 12 ± 4.30265·2/√3 = 12 ± 4.968. Percentiles of type 7:
    // position 1 + 0.1·2 = 1.2 → 10.4, and 2.8 → 13.6.
    expect(liveFigures(sampleOf(["10", "12", "14"]), METHOD, decimal("0.05"))).toMatchObject({
      n: 3,
      mean: "12.0",
      s: "2.0",
      cv: "16.7",
      range: "10.0–14.0",
      percentiles: ["10.4", "12.0", "13.6"],
      interval: "7.0–17.0",
    });
  });

  it("say how many more: at CV 10 % and ± 5 %, 18 in all by Student's t", () => {
    // t(0.975; 17) = 2.1098, 2.1098·10/√18 = 4.97 ≤ 5; t(0.975; 16) = 2.1199, 2.1199·10/√17 = 5.14 > 5.
    const sample = sampleOf(["9", "10", "11"]);
    expect(liveFigures(sample, METHOD, decimal("0.05")).more).toBe(15);
    expect(liveFigures(sample, METHOD, decimal("0.5")).more).toBe(0);
    expect(liveFigures(sample, METHOD, null).more).toBeNull();
  });

  it("one value has no spread, no interval and no picture", () => {
    const one = liveFigures(sampleOf(["12.5"]), METHOD, decimal("0.05"));
    expect(one).toMatchObject({
      n: 1,
      mean: "12.5",
      s: null,
      cv: null,
      interval: null,
      more: null,
      bars: [],
    });
  });

  it("every value is in exactly one class of the picture, and there are few classes", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -500, max: 100_000 }), { minLength: 2, maxLength: 60 }),
        (values) => {
          const least = Math.min(...values);
          const most = Math.max(...values);
          const bars = liveBars(sampleOf(values), decimal(least), decimal(most));
          expect(bars.length).toBeLessThanOrEqual(20);
          for (const bar of bars) {
            const inside = values.filter((value) => value >= Number(bar.from) && value < Number(bar.to));
            expect(bar.count).toBe(inside.length);
          }
          if (most > least) expect(bars.reduce((sum, bar) => sum + bar.count, 0)).toBe(values.length);
        },
      ),
    );
  });

  it("a half-width that is no share is none", () => {
    expect(wantedShare("5")?.toFixed()).toBe("0.05");
    expect(wantedShare("2,5")?.toFixed()).toBe("0.025");
    for (const text of ["", "x", "0", "-1", "101"]) expect(wantedShare(text)).toBeNull();
  });
});

describe("the report string of the panel", () => {
  const definition = {
    ...PLAIN_METHOD,
    dimensions: [{ key: "length", name: "Length" }],
    rounding: "half-even",
    report: { kind: "mean and range", places: 1, ratioPlaces: 2 },
  } as unknown as MethodDefinition;
  const columns = (count: number): SheetSummary => {
    const summary = new SheetSummary();
    const given = {
      total: count,
      from: 1,
      count,
      labels: ["A"],
      label: new Array(count).fill(0),
      struck: [],
      sizes: { length: Array.from({ length: count }, (_, at) => String(10 + 2 * (at % 3))) },
      flagSets: [],
      flags: {},
      factors: [{ calibrationId: "cal", relativeUncertainty: "0.01", degreesOfFreedom: null }],
      factor: { length: new Array(count).fill(0) },
    };
    for (let at = 0; at < count; at += 1) summary.storeColumn(given as never, at, new Set());
    return summary;
  };

  it("is that of the method, for the label; none where the method has none", () => {
    expect(liveReport(columns(3), "A", definition)).toBe("Length 12.0 ± 2.0 (10.0–14.0) µm, n = 3");
    expect(liveReport(columns(3), "B", definition)).toBeNull();
    const none = { ...definition, report: { ...definition.report, kind: "none" as const } };
    expect(liveReport(columns(3), "A", none)).toBeNull();
  });

  it("of grains is G with the U of the mean as a length, as the report has it", () => {
    const grains = {
      ...definition,
      report: { kind: "grain size number", places: 1, ratioPlaces: 2 },
      reading: { ...defaultTypedReadingConditions(), edgeKind: "none" },
      coverage: "k2",
    } as MethodDefinition;
    // 10, 12, 14 µm: s/√3 = 1.1547, factor 1 % of 12; U = 2·√(1.3333 + 0.0144). ASTM E112, from memory: G of 12 µm is 9.47.
    const summary = columns(3);
    summary.learn({
      factors: [{ calibrationId: "cal", relativeUncertainty: "0.01", degreesOfFreedom: null }],
    } as never);
    expect(uncertaintyOfMean(summary, { dimension: "length", label: "A" }, grains)?.toNumber()).toBeCloseTo(
      2 * Math.sqrt(4 / 3 + 0.12 ** 2),
      10,
    );
    expect(liveReport(summary, "A", grains)).toBe("G 9.47 ± 0.56; Length, mean 12.0 ± 2.3 µm, n = 3");
    expect(uncertaintyOfMean(columns(1), { dimension: "length", label: "A" }, grains)).toBeNull();
  });

  it("is left to the report for a very long label, and says so", () => {
    expect(liveReport(columns(MOST_REPORTED + 1), "A", definition)).toContain("see the report");
  });
});
