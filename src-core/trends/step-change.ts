import { type Decimal, decimal, sumOf, ZERO } from "../quantity/decimal.ts";
import { requireCount } from "../quantity/input-error.ts";
import { studentTwoSidedP } from "../statistics/distributions.ts";
import { mean, memberAt, requireSample } from "../statistics/sample.ts";

/** Two levels in place of one, where they fit best. */
export interface StepChange {
  /** Place, from 0, of the first value of the new level. */
  readonly index: number;
  /** Means before and after. */
  readonly before: Decimal;
  readonly after: Decimal;
  /** Sum of squares about the two means. */
  readonly residualSquares: Decimal;
  /** Two-sided, for the best of all n − 1 places (Bonferroni). */
  readonly p: number;
}

const LEAST = 4;

/**
 * The most likely single change of level: of all n − 1 splits the one with the largest two-sample t with pooled
 * variance (Hawkins 1977, J. American Statistical Association 72:180, from memory). Its p is that of Student's t with
 * n − 2 degrees of freedom times the number of splits tried, so it is rather too large than too small.
 * @returns null when all values are equal
 * @throws InputError for fewer than four values
 */
export function stepChange(values: readonly Decimal[]): StepChange | null {
  requireCount("values", values, LEAST);
  requireSample("values", values, LEAST);
  const n = values.length;
  const centre = mean(values);
  const deviations = values.map((value) => value.minus(centre));
  const total = sumOf(deviations.map((deviation) => deviation.times(deviation)));
  if (total.isZero()) return null;
  let sum = ZERO;
  let best = { index: 1, between: ZERO, before: centre, after: centre };
  for (let index = 1; index < n; index += 1) {
    sum = sum.plus(memberAt(deviations, index - 1));
    // Deviations sum to zero, so the two means differ by sum·n/(k(n − k)).
    const between = sum
      .times(sum)
      .times(n)
      .div(index)
      .div(n - index);
    if (between.greaterThan(best.between)) {
      best = {
        index,
        between,
        before: centre.plus(sum.div(index)),
        after: centre.minus(sum.div(n - index)),
      };
    }
  }
  const { index, before, after, between } = best;
  const residualSquares = total.minus(between).abs();
  // Rounding alone can leave a few units of the last of 34 digits.
  const perfect = residualSquares.lessThan(total.times(decimal("1e-28")));
  const t = perfect
    ? Number.POSITIVE_INFINITY
    : between
        .div(residualSquares.div(n - 2))
        .sqrt()
        .toNumber();
  const p = perfect ? 0 : Math.min(1, studentTwoSidedP(t, n - 2) * (n - 1));
  return { index, before, after, residualSquares: perfect ? ZERO : residualSquares, p };
}
