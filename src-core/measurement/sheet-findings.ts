import type { Decimal } from "../quantity/decimal.ts";
import { readDecimal } from "../quantity/decimal-text.ts";
import { roundToSignificant } from "../quantity/rounding.ts";
import { type ApartValues, apartValues, type OrderedMoments } from "../statistics/apart-values.ts";
import { type FlagKey, SHARED_FLAGS } from "../vocabulary/flag.ts";
import { readingPairUncertainty } from "./divisions-needed.ts";
import { LEAST_USUAL, type SizeHistory } from "./size-history.ts";
import { readReadingConditions } from "./typed-reading.ts";
import { type TurretFactor, wrongObjectiveHint } from "./wrong-objective.ts";

/** From so many measurements on a flag that nearly all have is said once for the sheet. */
const LEAST_SHARED = 5;
const NEARLY_ALL = 0.9;
/** So few values of a label say already that all of them were read with another objective. Our own rule. */
const HANDFUL = 3;

/** The flags of one dimension that are said once for the sheet: nearly every measurement has them. */
export function sharedFlags(counts: ReadonlyMap<FlagKey, number>, measured: number): ReadonlySet<FlagKey> {
  if (measured < LEAST_SHARED) return new Set();
  return new Set(
    [...counts].flatMap(([flag, count]) =>
      SHARED_FLAGS.has(flag) && count >= NEARLY_ALL * measured ? [flag] : [],
    ),
  );
}

/** u of one pair of readings, µm: sizes that differ by less are no different. @param factor µm/div; null: not known */
export function readingFloor(
  reading: Parameters<typeof readReadingConditions>[0],
  factor: string | null,
): number {
  if (factor === null) return 0;
  const { smallestFraction, repeatability } = readReadingConditions(reading);
  return readingPairUncertainty(smallestFraction, repeatability)
    .times(readDecimal("factor", factor).value)
    .toNumber();
}

/** The sizes of a label apart from the rest, seen no finer than one reading. */
export function apartSizes(sample: OrderedMoments, floor: number): ApartValues {
  return apartValues(sample, floor);
}

const um = (value: Decimal): string => `${roundToSignificant(value, 3).toFixed()} µm`;

/**
 * A handful of values of one label against what it measured elsewhere: when their median lies off by the ratio of two
 * factors of this turret, which one would explain them; null when nothing does. Common practice, no source.
 * @param median, of `n` values here, µm; @param factor that they were converted with, µm/div
 */
export function handfulFinding(
  here: { readonly median: Decimal; readonly n: number },
  history: SizeHistory | null,
  factor: Decimal,
  others: readonly TurretFactor[],
): string | null {
  if (history === null || history.n < LEAST_USUAL || here.n < HANDFUL || !here.median.greaterThan(0)) {
    return null;
  }
  const hint = wrongObjectiveHint(here.median, history.median, factor, others);
  if (!hint) return null;
  const times = roundToSignificant(here.median.div(history.median), 3).toFixed();
  return `${here.n} values, median ${um(here.median)}, are ${times} times what this label measured before (${um(history.median)}, n = ${history.n}): with ${hint.name} they would be ${um(hint.sizeThere)}.`;
}
