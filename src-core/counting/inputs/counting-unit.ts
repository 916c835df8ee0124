import type { CountField } from "../../contract/records/count.ts";
import type { CountCategory } from "../../contract/records/count-method.ts";
import { decimal } from "../../quantity/decimal.ts";
import { readDecimal, textOfDecimal } from "../../quantity/decimal-text.ts";
import { InputError } from "../../quantity/input-error.ts";

/**
 * Objects are added up as whole thousandths: whole, half and decimal counts alike come out exact, in the database and in
 * binary numbers.
 */
const THOUSANDTHS = 1000;
/** The largest colony one press may stand for. */
const LARGEST_COLONY = 1_000_000;

/** What a category may be counted in: objects; objects and halves; lengths in units, such as 2.4 of a filament. */
export type CountingUnit = "whole" | "halves" | "decimals";

const TAKES: Readonly<Record<CountingUnit, string>> = {
  whole: "whole numbers",
  halves: "whole and half numbers",
  decimals: "numbers with at most three decimals",
};
/** The smallest step, thousandths of an object. */
const STEPS: Readonly<Record<CountingUnit, number>> = { whole: 1000, halves: 500, decimals: 1 };

export function countingUnitOf({
  halves,
  decimals,
}: Pick<CountCategory, "halves" | "decimals">): CountingUnit {
  if (decimals) return "decimals";
  return halves ? "halves" : "whole";
}

/** @param objects canonical text of a count */
export function thousandthsOf(objects: string): number {
  return decimal(objects).times(THOUSANDTHS).toNumber();
}

export function textOfThousandths(thousandths: number): CountField["counts"][string] {
  return textOfDecimal(decimal(thousandths).div(THOUSANDTHS));
}

/** The exact sum of counts that have at most three decimals. */
export function sumOfObjects(counts: readonly number[]): number {
  return counts.reduce((sum, count) => sum + Math.round(count * THOUSANDTHS), 0) / THOUSANDTHS;
}

/**
 * Objects as typed, in thousandths, 0 included.
 * @throws InputError in words that follow the name of the category: `Betula takes whole numbers, not 0.5`
 */
export function readObjects(field: string, typed: string, category: CountCategory): number {
  const { value } = readDecimal(field, typed);
  if (value.lessThan(0)) throw new InputError(field, "must not be less than zero");
  if (value.greaterThan(LARGEST_COLONY)) throw new InputError(field, `is more than ${LARGEST_COLONY}`);
  const unit = countingUnitOf(category);
  const thousandths = value.times(THOUSANDTHS);
  if (!thousandths.mod(STEPS[unit]).isZero()) {
    throw new InputError(field, `takes ${TAKES[unit]}, not ${typed.trim()}`);
  }
  return thousandths.toNumber();
}
