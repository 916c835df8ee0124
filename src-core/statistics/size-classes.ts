import { Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requireFinite, requirePositive } from "../quantity/input-error.ts";
import { interquartileRange } from "./percentile.ts";
import { memberAt, requireSample, requireWhole, sorted, standardDeviation } from "./sample.ts";

/**
 * How many classes. Sturges 1926 (J. American Statistical Association 21:65): ⌈log₂ n + 1⌉. Scott 1979 (Biometrika
 * 66:605): width 3.49·s·n^(−1/3). Freedman and Diaconis 1981 (Z. Wahrscheinlichkeitstheorie 57:453): width
 * 2·IQR·n^(−1/3), here with the type 7 range.
 */
export const CLASS_RULES = ["sturges", "scott", "freedman-diaconis"] as const;
export type ClassRule = (typeof CLASS_RULES)[number];

export interface ClassProposal {
  readonly count: number;
  /** Width the rule asks for, unit of the values, before any rounding. */
  readonly width: Decimal;
}

/** One far outlier beside a narrow middle would otherwise ask for millions of classes. */
const MOST_CLASSES = 1000;

function ruleWidth(values: readonly Decimal[], rule: "scott" | "freedman-diaconis"): Decimal {
  const spread =
    rule === "scott" ? standardDeviation(values).times("3.49") : interquartileRange(values, 7).times(2);
  return spread.div(decimal(values.length).cbrt());
}

/**
 * Number of classes by a rule, and the width it stands for: k = ⌈(max − min)/h⌉. A sample without spread (or, for
 * Freedman–Diaconis, without an interquartile range) gets one class of width 1.
 * @throws InputError for fewer than two values
 */
export function proposeClasses(values: readonly Decimal[], rule: ClassRule): ClassProposal {
  requireSample("values", values, 2);
  const rising = sorted(values);
  const range = memberAt(rising, rising.length - 1).minus(memberAt(rising, 0));
  if (range.isZero()) return { count: 1, width: decimal(1) };
  if (rule === "sturges") {
    const count = Math.ceil(Math.log2(values.length) + 1);
    return { count, width: range.div(count) };
  }
  const asked = ruleWidth(values, rule);
  if (asked.isZero()) return { count: 1, width: range };
  const width = Decimal.max(asked, range.div(MOST_CLASSES));
  return { count: range.div(width).ceil().toNumber(), width };
}

/** The width of the form 1, 2 or 5 times a power of ten that is nearest to `width` in ratio (common practice, no source). */
export function roundWidth(width: Decimal): Decimal {
  requirePositive("width", width);
  const power = decimal(10).pow(width.e);
  const lead = width.div(power);
  const step = [1, 2, 5, 10].reduce((best, candidate) => {
    const off = (of: number) => Decimal.max(lead.div(of), decimal(of).div(lead));
    return off(candidate).lessThan(off(best)) ? candidate : best;
  });
  return power.times(step);
}

/** Equal classes: `count` + 1 limits from `first`, each one width further. */
export function equalLimits(first: Decimal, width: Decimal, count: number): Decimal[] {
  requireFinite("first", first);
  requirePositive("width", width);
  requireWhole("count", count, 1);
  return Array.from({ length: count + 1 }, (_, index) => first.plus(width.times(index)));
}

/** Limits on whole multiples of a round width near the one the rule asks for, covering every value. */
export function proposeLimits(values: readonly Decimal[], rule: ClassRule): Decimal[] {
  const width = roundWidth(proposeClasses(values, rule).width);
  const rising = sorted(values);
  const first = memberAt(rising, 0).div(width).floor().times(width);
  const last = memberAt(rising, rising.length - 1);
  const count = last.minus(first).div(width).floor().plus(1).toNumber();
  return equalLimits(first, width, count);
}

/** Limits in geometric progression, `perDecade` to each factor of ten: first·10^(j/perDecade). */
export function geometricLimits(first: Decimal, perDecade: number, count: number): Decimal[] {
  requirePositive("first", first);
  requireWhole("perDecade", perDecade, 1);
  requireWhole("count", count, 1);
  const ten = decimal(10);
  return Array.from({ length: count + 1 }, (_, index) => first.times(ten.pow(decimal(index).div(perDecade))));
}

/** Preferred numbers of ISO 3:1973, one decade. */
export const PREFERRED_NUMBERS = {
  R10: ["1", "1.25", "1.6", "2", "2.5", "3.15", "4", "5", "6.3", "8"],
  R20: [
    ...["1", "1.12", "1.25", "1.4", "1.6", "1.8", "2", "2.24", "2.5", "2.8"],
    ...["3.15", "3.55", "4", "4.5", "5", "5.6", "6.3", "7.1", "8", "9"],
  ],
} as const;
export type PreferredSeries = keyof typeof PREFERRED_NUMBERS;

/**
 * Limits on preferred numbers (ISO 3:1973, R10 or R20) from the last one at or below the least value to the first one
 * above the largest.
 * @throws InputError when a value is not positive or the values span more than twelve decades
 */
export function preferredLimits(values: readonly Decimal[], series: PreferredSeries): Decimal[] {
  requireSample("values", values, 1);
  const rising = sorted(values);
  const least = requirePositive("values", memberAt(rising, 0));
  const largest = memberAt(rising, rising.length - 1);
  if (largest.e - least.e > 12) throw new InputError("values", "span more than twelve powers of ten");
  const limits: Decimal[] = [];
  for (let decade = least.e; decade <= largest.e + 1; decade += 1) {
    for (const number of PREFERRED_NUMBERS[series])
      limits.push(decimal(number).times(decimal(10).pow(decade)));
  }
  const from = limits.findLastIndex((limit) => !limit.greaterThan(least));
  const to = limits.findIndex((limit) => limit.greaterThan(largest));
  return limits.slice(from, to + 1);
}
