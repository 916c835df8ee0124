import { Decimal, decimal, rootSumOfSquares, ZERO } from "../../quantity/decimal.ts";
import { requireNotNegative, requirePositive } from "../../quantity/input-error.ts";
import { roundStable } from "../intervals/count-checks.ts";
import { garwoodInterval } from "../intervals/poisson-interval.ts";

/** What was found, in the unit of what is stated: limits from the count alone, and what else is in doubt, relative. */
export interface Found {
  readonly value: Decimal;
  readonly lower: Decimal;
  readonly upper: Decimal;
  /** Relative standard uncertainty of everything but the count. */
  readonly relative: Decimal;
}

/** Per cent of what is stated, with 95 % limits. */
export interface Recovery {
  readonly percent: Decimal;
  readonly lower: Decimal;
  readonly upper: Decimal;
}

const HUNDRED = decimal(100);
const Z = decimal("1.959963984540054");

/**
 * Objects found less those that were there before, both counted in the same part of the sample. The limits join the exact
 * limits of the two counts side by side: G. Y. Zou and A. Donner: Construction of confidence limits about effect
 * measures (2008), Statistics in Medicine 27, 1693 (from memory). Without a background they are Garwood's.
 * @param background null: nothing was there, or nobody looked
 * @throws InputError `found` or `background` for a count below zero
 */
export function objectsFound(found: Decimal, background: Decimal | null): Found {
  const limits = (field: string, count: Decimal) => {
    const { lower, upper } = garwoodInterval(requireNotNegative(field, count).toNumber());
    return { lower: decimal(roundStable(lower)), upper: decimal(roundStable(upper)) };
  };
  const own = limits("found", found);
  if (background === null) return { value: found, ...own, relative: ZERO };
  const before = limits("background", background);
  const value = found.minus(background);
  return {
    value,
    lower: value.minus(rootSumOfSquares([found.minus(own.lower), before.upper.minus(background)])),
    upper: value.plus(rootSumOfSquares([own.upper.minus(found), background.minus(before.lower)])),
    relative: ZERO,
  };
}

/**
 * Recovery R = found/stated in per cent. Its limits reach as far as those of the count and, in quadrature on either side,
 * 1.96 times the other doubts. A number of objects is stated for the whole sample, of which a part was looked at.
 * @param stated its value > 0, its standard uncertainty, and the part looked at, 0…1
 * @throws InputError `stated` or `portion`
 */
export function recoveryOf(
  found: Found,
  stated: { readonly value: Decimal; readonly standardUncertainty: Decimal; readonly portion: Decimal },
): Recovery {
  const { value, standardUncertainty, portion } = stated;
  const scale = HUNDRED.div(requirePositive("stated", value)).div(requirePositive("portion", portion));
  const other = rootSumOfSquares([found.relative, standardUncertainty.div(value)]).times(Z);
  const below = rootSumOfSquares([found.value.minus(found.lower), other.times(found.value)]);
  const above = rootSumOfSquares([found.upper.minus(found.value), other.times(found.upper)]);
  return {
    percent: found.value.times(scale),
    lower: Decimal.max(ZERO, found.value.minus(below)).times(scale),
    upper: Decimal.max(ZERO, found.value.plus(above)).times(scale),
  };
}

/**
 * Relative range of two results in per cent: their difference over their mean, with its sign, later less earlier; null
 * when both are zero.
 */
export function relativeDifference(first: Decimal, second: Decimal): Decimal | null {
  const sum = first.plus(second);
  return sum.isZero() ? null : second.minus(first).div(sum).times(200);
}
