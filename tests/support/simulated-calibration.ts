import { calibrate } from "#core/calibration/calibrate.ts";
import type {
  CalibrationConditions,
  CalibrationInput,
  CalibrationResult,
  Setting,
} from "#core/calibration/calibration.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { NormalChance } from "./normal-chance.ts";

/*
 * A calibration with a known truth, all inputs invented: a reticle of 100 divisions on lines 10 µm apart, 10 µm per
 * division. Certificate, drift, temperature, train and field err as their own distributions say, each setting scatters
 * with a stated sd, and both ends are read to a tenth of a division, as a person does.
 */
export const TRUE_FACTOR = 10;
const TENTH = 0.1;
const EXPANDED_UM = 0.3;
const LAST_LINE_UM = 1100;

export const SIMULATED_CONDITIONS: CalibrationConditions = {
  temperature: decimal(20),
  temperatureHalfWidth: decimal(3),
  expansion: decimal("0.0000091"),
  expansionHalfWidth: decimal("0.000001"),
  micrometerDriftHalfWidth: decimal("0.05"),
  alignmentHalfAngle: decimal(0),
  fieldDistortionHalfWidth: decimal("0.001"),
  trainHalfWidth: decimal("0.0015"),
  trainDoubt: decimal("0.2"),
  smallestFraction: decimal("0.1"),
};

/** Where a setting lies: its left line on this division, and how many divisions it spans. */
export interface Place {
  readonly from: number;
  readonly span: number;
  /** The left line is laid on its division and typed so; else both ends are read. */
  readonly laid?: boolean;
}

/** How the local factor changes: right half less left half, and both ends less middle, relative. */
export interface Distortion {
  readonly slope: number;
  readonly bow: number;
}

export const EVEN: Distortion = { slope: 0, bow: 0 };

/** Where a length of `um` from division `from` on ends, div: ∫ f·(1 + slope·u + bow·u²) dx, u from −1 to 1 over 100. */
function endOf(from: number, um: number, factor: number, { slope, bow }: Distortion): number {
  if (slope === 0 && bow === 0) return from + um / factor;
  const local = (x: number): number => {
    const u = (x - 50) / 50;
    return factor * (1 + slope * u + bow * u * u);
  };
  const whole = (x: number): number => {
    const u = (x - 50) / 50;
    return factor * 50 * (u + (slope * u * u) / 2 + (bow * u ** 3) / 3);
  };
  let end = from + um / factor;
  for (let step = 0; step < 6; step += 1) end -= (whole(end) - whole(from) - um) / local(end);
  return end;
}

function toTenths(reading: number): number {
  return Math.round(reading / TENTH);
}

const spread = (chance: NormalChance, halfWidth: number): number => halfWidth * (2 * chance.uniform() - 1);

export interface Simulated {
  readonly input: CalibrationInput;
  readonly result: CalibrationResult;
  readonly settings: readonly Setting[];
}

/**
 * One calibration. Train and field err alike in all its settings, certified lines each by itself.
 * @param sd of one setting, both ends, div
 */
export function simulateCalibration(
  places: readonly Place[],
  sd: number,
  chance: NormalChance,
  options: {
    readonly distortion?: Distortion;
    readonly estimator?: CalibrationInput["estimator"];
    readonly pooled?: { readonly deviation: number; readonly degrees: number };
  } = {},
): Simulated {
  const line = EXPANDED_UM / 2 / Math.SQRT2;
  const errors = new Map<number, number>();
  const errorAt = (um: number): number => {
    const known = errors.get(um) ?? chance.normal() * line;
    errors.set(um, known);
    return known;
  };
  const drift = spread(chance, 0.05) / 2;
  const warmth = 1 + 0.0000091 * spread(chance, 3);
  const used = TRUE_FACTOR / ((1 + spread(chance, 0.001)) * (1 + spread(chance, 0.0015)));
  const settings = places.map(({ from, span, laid }): Setting => {
    const [first, last] = [0, span * TRUE_FACTOR];
    // The drift acts on the interval as a whole, whatever its length.
    const um = (last + errorAt(last) - errorAt(first) + 2 * drift) * warmth;
    const edge = (): number => (chance.normal() * sd) / Math.SQRT2;
    const start = laid ? from : from + chance.uniform();
    const end = endOf(start, um, used, options.distortion ?? EVEN);
    const left = laid ? Math.round(start * 10) : toTenths(start + edge());
    const right = toTenths(end + edge() + (laid ? edge() : 0));
    return {
      reticleLeft: decimal(left).div(10),
      reticleRight: decimal(right).div(10),
      lineLeft: decimal(first),
      lineRight: decimal(last),
    };
  });
  const lines = [...new Set([0, ...places.map(({ span }) => span * TRUE_FACTOR), LAST_LINE_UM])];
  const input: CalibrationInput = {
    settings,
    scale: {
      lines: lines.sort((a, b) => a - b).map((nominal) => ({ nominal: decimal(nominal), error: decimal(0) })),
      expandedUncertainty: decimal(EXPANDED_UM),
      coverageFactor: decimal(2),
    },
    conditions: SIMULATED_CONDITIONS,
    estimator: options.estimator ?? "origin-regression",
    coverage: "t95",
    ...(options.pooled
      ? {
          pooled: {
            deviation: decimal(options.pooled.deviation),
            degreesOfFreedom: decimal(options.pooled.degrees),
            origin: "person" as const,
            calibrations: 3,
          },
        }
      : {}),
  };
  return { input, result: calibrate(input), settings };
}

/** s of a person's earlier settings with ν degrees of freedom, as their own scatter would give it, div. */
export function learntDeviation(sd: number, degrees: number, chance: NormalChance): number {
  let squares = 0;
  for (let i = 0; i < degrees; i += 1) squares += chance.normal() ** 2;
  return Math.sqrt((squares / degrees) * (sd ** 2 + TENTH ** 2 / 6));
}
