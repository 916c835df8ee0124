import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import { defaultTypedConditions } from "#core/calibration/default-conditions.ts";
import { factorRecordOf } from "#core/calibration/factor-record.ts";
import { readCalibration } from "#core/calibration/typed-calibration.ts";
import { TypedReadingConditions } from "#core/contract/records/method.ts";
import { SizeRecord } from "#core/contract/records/sheet.ts";
import {
  DEFAULT_READING_CONDITIONS,
  defaultTypedReadingConditions,
} from "#core/measurement/default-reading-conditions.ts";
import { divisionsNeeded } from "#core/measurement/divisions-needed.ts";
import { FLAG_WORDS, type FlagInput, flagsOf } from "#core/measurement/flags.ts";
import { type MeasuringPlanInput, measuringPlan } from "#core/measurement/measuring-plan.ts";
import { divisionsOfEdges, previewSize, readReadingConditions } from "#core/measurement/typed-reading.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";
import { FLAG_KEYS } from "#core/vocabulary/flag.ts";

const d = decimal;

const FACTOR = factorRecordOf(
  calibrate(
    readCalibration({
      settings: [{ reticleLeft: "0", reticleRight: "96.4", lineLeft: "0", lineRight: "100" }],
      conditions: defaultTypedConditions(),
      estimator: "origin-regression",
      coverage: "t95",
      scale: {
        lines: [
          { nominal: "0", error: "0" },
          { nominal: "1000", error: "0" },
        ],
        expandedUncertainty: "0.3",
        coverageFactor: "2",
      },
      linePitchUm: "10",
    }),
  ),
);
const METHOD = { reading: defaultTypedReadingConditions(), coverage: "t95", rounding: "half-even" } as const;

const preview = (left: string, right: string, reading = METHOD.reading) =>
  previewSize({ left, right, factor: FACTOR, definition: { ...METHOD, reading } });

describe("a reading as typed", () => {
  it("of 28.5 divisions with the factor of 96.4 on 1 mm by one setting shows 295.6 ± 4.4 µm", () => {
    const { divisions, size } = preview("23.0", "51.5");
    expect(divisions.toString()).toBe("28.5");
    expect(`${size.shownValue} ± ${size.shownUncertainty}`).toBe("295.6 ± 4.4");
    expect(SizeRecord.parse(size)).toEqual(size);
  });

  it("keeps the sign of edges read the wrong way round, and the size without it", () => {
    expect(preview("51.5", "23").divisions.toString()).toBe("-28.5");
    expect(preview("51.5", "23").size).toEqual(preview("23.0", "51.5").size);
  });

  it("takes comma and point alike", () => {
    expect(divisionsOfEdges("12,4", "47.4").toString()).toBe("35");
  });

  it("is worked in decimals: no digit of a typed pair is lost", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000 }), fc.integer({ min: 0, max: 10_000 }), (left, right) => {
        const text = (n: number) => `${Math.trunc(n / 100)}.${String(n % 100).padStart(2, "0")}`;
        expect(divisionsOfEdges(text(left), text(right)).times(100).toNumber()).toBe(right - left);
      }),
    );
  });

  it.each([
    ["", "32", /^left: is empty/],
    ["12", "3 2", /^right: /],
    ["12", "1e2", /^right: .*exponent/],
    ["9".repeat(10_000), "32", /^left: .*too long/],
  ])("of %j and %j is refused at its field", (left, right, field) => {
    expect(() => preview(left, right)).toThrow(field);
  });

  it("is refused at the condition that cannot be read", () => {
    expect(() => preview("12", "32", { ...METHOD.reading, repeatability: "much" })).toThrow(
      /^reading\.repeatability: /,
    );
    expect(() => preview("12", "32", { ...METHOD.reading, edgeDegreesOfFreedom: "0" })).toThrow(
      /^reading\.edgeDegreesOfFreedom: /,
    );
  });
});

describe("default reading conditions", () => {
  it("are a record of the contract, readable, and say where each comes from", () => {
    const typed = defaultTypedReadingConditions();
    expect(TypedReadingConditions.parse(typed)).toEqual(typed);
    expect(Object.keys(DEFAULT_READING_CONDITIONS).sort()).toEqual(Object.keys(typed).sort());
    expect(readReadingConditions(typed).repeatabilityDegreesOfFreedom).toBeNull();
    for (const { why } of Object.values(DEFAULT_READING_CONDITIONS)) expect(why.length).toBeGreaterThan(20);
  });
});

describe("flags", () => {
  const GOOD: FlagInput = {
    left: d(12),
    right: d(52),
    reticleDivisions: 100,
    minimumDivisions: d(10),
    wanted: null,
    size: d(400),
    expandedUncertainty: d(2),
    factor: d(10),
    otherObjectives: [],
    otherChangerSettings: [],
    history: null,
    usual: null,
    numericalAperture: d("0.25"),
    today: "2026-06-01",
    calibrationDueOn: "2026-06-01",
    certificateDueOn: "2027-01-01",
    headCompensated: false,
    personId: "ann",
    calibratedBy: "ann",
  };

  it("are none on an ordinary reading, on the day it is due", () => {
    expect(flagsOf(GOOD)).toEqual([]);
  });

  it.each<[string, Partial<FlagInput>, string[]]>([
    ["a reading beyond the scale", { right: d("100.1") }, ["off-scale"]],
    ["a reading before the scale", { left: d("-0.1") }, ["off-scale"]],
    ["edges read the wrong way round", { left: d(52), right: d(12) }, ["edges-reversed"]],
    ["fewer divisions than the method wants", { right: d("21.9") }, ["few-divisions"]],
    [
      "too few for the wanted uncertainty",
      { wanted: { percent: d(1), readingUncertainty: d("0.2") }, right: d("51.9") },
      ["few-divisions"],
    ],
    [
      "an uncertainty larger than wanted",
      { wanted: { percent: d("0.4"), readingUncertainty: d("0.01") } },
      ["uncertainty-not-met"],
    ],
    [
      "a size outside what its label measured before",
      { history: { n: 30, low: d(300), median: d(350), high: d("399.9") } },
      ["outside-history"],
    ],
    [
      "a size that another objective would make usual",
      {
        history: { n: 30, low: d(90), median: d(101), high: d(110) },
        usual: { n: 30, median: d(101), where: "on other sheets" },
        otherObjectives: [
          { name: "40×", factor: d("2.5") },
          { name: "4×", factor: d(25) },
        ],
      },
      ["wrong-objective", "outside-history"],
    ],
    [
      "a size that another changer setting would make usual",
      {
        history: { n: 30, low: d(255), median: d(270), high: d(280) },
        usual: { n: 30, median: d(270), where: "on other sheets" },
        otherChangerSettings: [{ name: "1.5×", factor: d("6.667") }],
      },
      ["changer-forgotten", "outside-history"],
    ],
    ["a size apart from the rest of its sheet", { apart: true }, ["outside-sheet"]],
    [
      "a size apart from the rest that another objective explains",
      {
        size: d(400),
        usual: { n: 6, median: d(101), where: "on this sheet" },
        apart: true,
        otherObjectives: [{ name: "40×", factor: d("2.525") }],
      },
      ["wrong-objective", "outside-sheet"],
    ],
    ["an object near the resolution limit", { size: d("13.4") }, ["near-resolution"]],
    ["a calibration past its date", { calibrationDueOn: "2026-05-31" }, ["calibration-overdue"]],
    ["a certificate past its date", { certificateDueOn: "2026-05-31" }, ["certificate-overdue"]],
    ["another person at a head that is not compensated", { personId: "ben" }, ["person-differs"]],
    [
      "several at once, what can be wrong before what is imprecise",
      { left: d(101), right: d(99), calibrationDueOn: "2020-01-01" },
      ["off-scale", "edges-reversed", "calibration-overdue", "few-divisions"],
    ],
  ])("mark %s", (_, own, flags) => {
    expect(flagsOf({ ...GOOD, ...own })).toEqual(flags);
  });

  it.each<[string, Partial<FlagInput>]>([
    ["another person at a compensated head", { personId: "ben", headCompensated: true }],
    ["nobody known to have calibrated", { calibratedBy: null }],
    ["no aperture known", { size: d(1), numericalAperture: null }],
    ["no factor yet", { size: null }],
    ["no least divisions", { right: d(13), minimumDivisions: null }],
    ["no due dates", { calibrationDueOn: null, certificateDueOn: null }],
  ])("stay away with %s", (_, own) => {
    expect(flagsOf({ ...GOOD, ...own })).toEqual([]);
  });

  it("each have a meaning and a next step in words", () => {
    expect(Object.keys(FLAG_WORDS).sort()).toEqual([...FLAG_KEYS].sort());
    for (const { meaning, whatToDo } of Object.values(FLAG_WORDS)) {
      expect(meaning).toMatch(/\.$/);
      expect(whatToDo).toMatch(/\.$/);
    }
  });
});

describe("the measuring plan", () => {
  const train = (name: string, factor: string, na: string) => ({
    id: name,
    name,
    factor: d(factor),
    relativeUncertainty: d("0.0012"),
    numericalAperture: d(na),
    reticleDivisions: 100,
  });
  const TURRET = [train("10×", "10", "0.25"), train("40×", "2.5", "0.65"), train("100×", "1", "1.25")];
  const plan = (own: Partial<MeasuringPlanInput> = {}) =>
    measuringPlan({
      size: d(60),
      wantedPercent: d(2),
      smallestFraction: d("0.1"),
      repeatability: d("0.2"),
      trains: TURRET,
      ...own,
    });

  it("puts the objective first that needs the fewest readings", () => {
    expect(plan().map((one) => [one.name, one.repeats])).toEqual([
      ["100×", 1],
      ["40×", 1],
      // 6 div: scatter 6.67 %, ends 1.36 %, factor 0.24 %; 6.67²/(2² − 1.36² − 0.24²) = 21.3.
      ["10×", 22],
    ]);
  });

  it("does not choose an objective on whose scale the object has no room", () => {
    const [best, , worst] = plan({ size: d(240) });
    expect(best?.name).toBe("40×");
    expect(worst).toMatchObject({ name: "100×", fitsScale: false });
    expect(worst?.reasons[0]).toContain("240 of 100 divisions");
  });

  it("says when no number of repeats will do", () => {
    const coarse = plan({ wantedPercent: d("0.2") });
    expect(coarse.every((one) => one.repeats === null)).toBe(true);
    expect(coarse[0]?.reasons.join()).toContain("cannot reach 0.2 %");
  });

  it("says when the object is near the resolution limit", () => {
    expect(plan({ size: d(5) }).find((one) => one.name === "10×")?.nearResolution).toBe(true);
  });

  it("agrees with the number of divisions needed", () => {
    const needed = divisionsNeeded(d("0.2"), d(2));
    const [exact] = measuringPlan({
      size: needed,
      wantedPercent: d(2),
      smallestFraction: ZERO,
      repeatability: d("0.2"),
      trains: [{ ...train("1", "1", "1"), relativeUncertainty: ZERO }],
    });
    expect(exact?.repeats).toBe(1);
    expect(exact?.expectedPercent.toString()).toBe("2");
  });

  it.each<[Partial<MeasuringPlanInput>, RegExp]>([
    [{ size: ZERO }, /^size: /],
    [{ wantedPercent: d(-1) }, /^wantedPercent: /],
    [{ repeatability: d("NaN") }, /^repeatability: /],
    [{ trains: [train("none", "0", "0.5")] }, /^trains\.none\.factor: /],
  ])("refuses %j", (own, field) => {
    expect(() => plan(own)).toThrow(field);
  });
});
