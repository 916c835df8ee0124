import { describe, expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import type { CalibrationConditions, CalibrationInput } from "#core/calibration/calibration.ts";
import { factorRecordOf } from "#core/calibration/factor-record.ts";
import {
  type FactorUnderTrial,
  factorModel,
  factorTrials,
  factorUnderTrial,
  type SimulatedLine,
} from "#core/calibration/factor-simulation.ts";
import { withWorkingFactor } from "#core/calibration/working-factor.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { NOTHING_DOUBTED } from "#core/selftest/plain-setups.ts";
import { endOf } from "../../support/simulated-at-once.ts";
import { SIMULATED_CONDITIONS } from "../../support/simulated-calibration.ts";

const d = decimal;
const TRIALS = 200_000;

/** Invented: three settings of unlike spans on certified lines, 96.4 div to 1000 µm. */
function inputWith(
  conditions: Partial<CalibrationConditions> = {},
  { readingShift = 0, lengthRatio = 1, certificate = "0.3" } = {},
): CalibrationInput {
  const spans = [
    ["96.4", "1000"],
    ["48.3", "500"],
    ["96.5", "1000"],
  ] as const;
  return {
    settings: spans.map(([reticle, line]) => ({
      reticleLeft: ZERO,
      reticleRight: d(reticle).plus(readingShift),
      lineLeft: ZERO,
      lineRight: d(line),
    })),
    scale: {
      lines: ["0", "500", "1000"].map((line) => ({
        nominal: d(line),
        error: d(line).times(d(lengthRatio).minus(1)),
      })),
      expandedUncertainty: d(certificate),
      coverageFactor: d(2),
    },
    conditions: {
      ...SIMULATED_CONDITIONS,
      temperature: d(26),
      alignmentHalfAngle: d(2),
      ...conditions,
    },
    estimator: "origin-regression",
    coverage: "t95",
  };
}

function under(input: CalibrationInput): FactorUnderTrial {
  return factorUnderTrial(factorRecordOf(calibrate(input)), input.coverage);
}

/** The model's factor when one input deviates and nothing else does. */
function withDeviation(
  { gum, lines }: FactorUnderTrial,
  deviations: Readonly<Record<string, number>>,
): number {
  const drawn = lines.filter((line) => line.standardUncertainty > 0).map(({ key }) => deviations[key] ?? 0);
  return factorModel(gum.estimate, lines).result(Float64Array.from(drawn));
}

const factorOf = (input: CalibrationInput): number => calibrate(input).factor.toNumber();

describe("the model of the trials is the model of the calibration", () => {
  const factor = under(inputWith());
  /** The angle's estimate is not 0 but E κ: at θ = 0 the model lies below y by it. */
  const straight = 1 + ((2 * Math.PI) / 180) ** 2 / 6;
  const nearly = (value: number) => expect.closeTo(value, 10);

  it("reads at one end as calibrate does", () => {
    const moved = factorOf(inputWith({}, { readingShift: 0.7 })) / straight;
    expect(withDeviation(factor, { "reading-left": 0.7 })).toEqual(nearly(moved));
    expect(withDeviation(factor, { "reading-right": 0.3, repeatability: 0.4 })).toEqual(nearly(moved));
  });

  it("is as warm, and expands as much", () => {
    const moved = factorOf(inputWith({ temperature: d(36), expansion: d("0.0000191") })) / straight;
    expect(withDeviation(factor, { temperature: 10, expansion: 0.00001 })).toEqual(nearly(moved));
  });

  it("takes its lengths from the certificate", () => {
    const moved = factorOf(inputWith({}, { lengthRatio: 1.001 })) / straight;
    expect(withDeviation(factor, { certificate: 0.6, drift: 0.4 })).toEqual(nearly(moved));
  });

  it("stretches with field and train, and lies at an angle", () => {
    expect(withDeviation(factor, { field: 0.01, train: 0.02 })).toEqual(
      nearly((factor.gum.estimate / straight) * 1.01 * 1.02),
    );
    expect(withDeviation(factor, { alignment: 0.03 })).toEqual(
      nearly((factor.gum.estimate / straight) * (1 + 0.03 ** 2 / 2)),
    );
  });

  it("refuses a line that it does not know", () => {
    const strange: SimulatedLine = {
      key: "moonlight",
      distribution: "normal",
      standardUncertainty: 1,
      sensitivity: 1,
      degreesOfFreedom: null,
    };
    expect(() => factorModel(1, [strange])).toThrow(InputError);
  });
});

/** All inputs invented. */
describe("trials of a factor", () => {
  it("give the same figures for the same seed", () => {
    const factor = under(inputWith());
    const once = endOf(factorTrials(factor, TRIALS));
    expect(endOf(factorTrials(factor, TRIALS))).toEqual(once);
    expect(endOf(factorTrials(factor, TRIALS, 102))).not.toEqual(once);
  });

  it("count up slice by slice", () => {
    const counts = [...factorTrials(under(inputWith()), 12_000)];
    expect(counts).toEqual([5000, 10_000, 12_000]);
  });

  it("agree with the GUM where one normal line rules", () => {
    const factor = under({ ...inputWith(NOTHING_DOUBTED, { certificate: "4" }), settings: evenSettings() });
    const { simulated, validation } = endOf(factorTrials(factor));
    expect(validation.outcome).toBe("validated");
    expect(simulated.standard).toBeCloseTo(factor.gum.standard, 4);
  });

  it("are narrower than the GUM where one rectangle rules: 1.645/1.96", () => {
    const factor = under({
      ...inputWith({ ...NOTHING_DOUBTED, fieldDistortionHalfWidth: d("0.05") }, { certificate: "0" }),
      settings: evenSettings(),
    });
    const { simulated, validation } = endOf(factorTrials(factor, TRIALS));
    const width = simulated.symmetric.high - simulated.symmetric.low;
    expect(width / (2 * factor.gum.expanded)).toBeCloseTo((0.95 * Math.sqrt(3)) / 1.959964, 2);
    expect(validation.words).toMatch(/narrower/);
  });

  it("hold k = 2 against the 95.45 % that it has", () => {
    const factor = under({
      ...inputWith(NOTHING_DOUBTED, { certificate: "4" }),
      settings: evenSettings(),
      coverage: "k2",
    });
    expect(endOf(factorTrials(factor)).validation.outcome).toBe("validated");
  });

  it("of a working factor are those of the exact one behind it", () => {
    const exact = factorRecordOf(calibrate(inputWith()));
    const working = factorUnderTrial(withWorkingFactor(exact, 1, "t95"), "t95");
    expect(working).toEqual({ ...factorUnderTrial(exact, "t95"), ofExact: true });
  });

  it("state no u where a line has ν of 2 or less", () => {
    const { gum, coverage, lines } = under(inputWith());
    const few = lines.map((line) => (line.key === "repeatability" ? { ...line, degreesOfFreedom: 2 } : line));
    const { simulated } = endOf(factorTrials({ gum, coverage, lines: few }, TRIALS));
    expect([simulated.estimate, simulated.standard]).toEqual([null, null]);
    expect(simulated.symmetric.high).toBeGreaterThan(simulated.symmetric.low);
  });
});

/** Five settings that repeat to the last digit: no scatter. */
function evenSettings(): CalibrationInput["settings"] {
  return Array.from({ length: 5 }, () => ({
    reticleLeft: ZERO,
    reticleRight: d("96.4"),
    lineLeft: ZERO,
    lineRight: d(1000),
  }));
}
