import { LEAST_RESOLUTION_LIMITS, resolutionLimitUm } from "../optics/resolution.ts";
import type { Decimal } from "../quantity/decimal.ts";
import { requireNotNegative, requirePositive } from "../quantity/input-error.ts";
import { formatToPlaces, roundToSignificant } from "../quantity/rounding.ts";
import { readingPairUncertainty } from "./divisions-needed.ts";

/** A train the planner may choose. */
export interface PlannedTrain {
  readonly id: string;
  readonly name: string;
  readonly factor: Decimal;
  /** u(f)/f. */
  readonly relativeUncertainty: Decimal;
  readonly numericalAperture: Decimal | null;
  readonly reticleDivisions: number;
}

export interface MeasuringPlanInput {
  /** Expected size of the object, µm. */
  readonly size: Decimal;
  /** Wanted uncertainty of one size, % at k = 2. */
  readonly wantedPercent: Decimal;
  /** Smallest fraction read and standard deviation of one pair of readings, div. */
  readonly smallestFraction: Decimal;
  readonly repeatability: Decimal;
  readonly trains: readonly PlannedTrain[];
}

export interface PlannedMeasurement {
  readonly id: string;
  readonly name: string;
  /** Divisions the object will span. */
  readonly divisions: Decimal;
  readonly fitsScale: boolean;
  /** Expected U of a single reading, % at k = 2. */
  readonly expectedPercent: Decimal;
  /** Readings of each object needed for the wanted uncertainty; null when the factor alone exceeds it. */
  readonly repeats: number | null;
  readonly nearResolution: boolean;
  /** The first sentence says whether and why to use it. */
  readonly reasons: readonly string[];
}

/** Nobody reads the same object more often than this. */
const MOST_REPEATS = 100;

function percent(value: Decimal): string {
  return `${roundToSignificant(value, 2).toFixed()} %`;
}

/** Repeats n with (2·u_scatter/(N√n))² + (2·fixed)² ≤ p²; null when the fixed part alone is too large. */
function repeatsFor(scatter: Decimal, fixed: Decimal, wanted: Decimal): number | null {
  const left = wanted.pow(2).minus(fixed.pow(2));
  if (!left.greaterThan(0)) return null;
  const n = scatter.pow(2).div(left).ceil();
  return n.greaterThan(MOST_REPEATS) ? null : Math.max(1, n.toNumber());
}

function planFor(train: PlannedTrain, input: MeasuringPlanInput, wanted: Decimal): PlannedMeasurement {
  const field = `trains.${train.id}`;
  const divisions = input.size.div(requirePositive(`${field}.factor`, train.factor));
  const ofFactor = requireNotNegative(`${field}.relativeUncertainty`, train.relativeUncertainty).times(200);
  const estimation = readingPairUncertainty(input.smallestFraction).div(divisions).times(200);
  const scatter = input.repeatability.div(divisions).times(200);
  const fixed = ofFactor.pow(2).plus(estimation.pow(2)).sqrt();
  const expectedPercent = fixed.pow(2).plus(scatter.pow(2)).sqrt();
  const fitsScale = divisions.lessThanOrEqualTo(train.reticleDivisions);
  const nearResolution =
    train.numericalAperture !== null &&
    input.size.lessThan(resolutionLimitUm(train.numericalAperture).times(LEAST_RESOLUTION_LIMITS));
  const repeats = repeatsFor(scatter, fixed, wanted);
  const reasons = [
    fitsScale
      ? `spans ${formatToPlaces(divisions, 1)} divisions, expected U ${percent(expectedPercent)}`
      : `is longer than the scale: ${formatToPlaces(divisions, 0)} of ${train.reticleDivisions} divisions`,
  ];
  if (repeats === null) {
    reasons.push(
      `cannot reach ${percent(wanted)} by repeating: factor and estimation alone give ${percent(fixed)}`,
    );
  } else if (repeats > 1) reasons.push(`needs ${repeats} readings of each object for ${percent(wanted)}`);
  else reasons.push(`one reading is enough for ${percent(wanted)}`);
  if (nearResolution) reasons.push("the object is less than ten resolution limits long: its edges are soft");
  return {
    id: train.id,
    name: train.name,
    divisions,
    fitsScale,
    expectedPercent,
    repeats,
    nearResolution,
    reasons,
  };
}

function compare(a: PlannedMeasurement, b: PlannedMeasurement): number {
  if (a.fitsScale !== b.fitsScale) return a.fitsScale ? -1 : 1;
  const repeats = (a.repeats ?? Number.POSITIVE_INFINITY) - (b.repeats ?? Number.POSITIVE_INFINITY);
  if (repeats !== 0 && !Number.isNaN(repeats)) return repeats;
  if (a.nearResolution !== b.nearResolution) return a.nearResolution ? 1 : -1;
  return a.expectedPercent.comparedTo(b.expectedPercent);
}

/**
 * Which objective to use and how often to read each object, for an object of about this size and a wanted uncertainty.
 * The best comes first: it fits the scale, needs the fewest readings, is not near its resolution limit, and is most exact.
 * Estimation of the fraction is not averaged down by repeats, the scatter is; the factor never is.
 * @throws InputError `size`, `wantedPercent`, `smallestFraction`, `repeatability` or `trains.<id>.<key>`
 */
export function measuringPlan(input: MeasuringPlanInput): PlannedMeasurement[] {
  requirePositive("size", input.size);
  const wanted = requirePositive("wantedPercent", input.wantedPercent);
  requireNotNegative("smallestFraction", input.smallestFraction);
  requireNotNegative("repeatability", input.repeatability);
  return input.trains.map((train) => planFor(train, input, wanted)).sort(compare);
}
