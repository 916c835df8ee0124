import { type Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { mean, memberAt, requireSample } from "./sample.ts";

export interface DistributionShape {
  /** g1 = m3/m2^1.5 with moments divided by n. */
  readonly skewness: Decimal;
  /** G1 = g1·√(n(n−1))/(n−2), the spreadsheet SKEW; null below three values. */
  readonly sampleSkewness: Decimal | null;
  /** g2 = m4/m2² − 3. */
  readonly excessKurtosis: Decimal;
  /** G2 = (n−1)/((n−2)(n−3))·((n+1)g2 + 6), the spreadsheet KURT; null below four values. */
  readonly sampleExcessKurtosis: Decimal | null;
}

/**
 * Skewness and excess kurtosis, both as moments of the values and as the usual estimates for the population
 * (Joanes and Gill 1998, The Statistician 47:183, types 1 and 2). Null when all values are equal.
 */
export function distributionShape(values: readonly Decimal[]): DistributionShape | null {
  requireSample("values", values, 2);
  const n = values.length;
  const centre = mean(values);
  const moments = values.reduce(
    (sums, value) => {
      const d = value.minus(centre);
      const squared = d.times(d);
      return {
        second: sums.second.plus(squared),
        third: sums.third.plus(squared.times(d)),
        fourth: sums.fourth.plus(squared.times(squared)),
      };
    },
    { second: ZERO, third: ZERO, fourth: ZERO },
  );
  const m2 = moments.second.div(n);
  if (m2.isZero()) return null;
  const g1 = moments.third.div(n).div(m2.times(m2.sqrt()));
  const g2 = moments.fourth.div(n).div(m2.times(m2)).minus(3);
  return {
    skewness: g1,
    sampleSkewness:
      n < 3
        ? null
        : g1.times(
            decimal(n * (n - 1))
              .sqrt()
              .div(n - 2),
          ),
    excessKurtosis: g2,
    sampleExcessKurtosis:
      n < 4
        ? null
        : g2
            .times(n + 1)
            .plus(6)
            .times(n - 1)
            .div((n - 2) * (n - 3)),
  };
}

/**
 * Lag-1 autocorrelation r1 = Σ(yᵢ − ȳ)(yᵢ₊₁ − ȳ)/Σ(yᵢ − ȳ)², in the order given (NIST StRD, univariate summary
 * statistics). Null when all values are equal.
 */
export function lagOneAutocorrelation(values: readonly Decimal[]): Decimal | null {
  requireSample("values", values, 2);
  const centre = mean(values);
  const deviations = values.map((value) => value.minus(centre));
  const squares = deviations.reduce((sum, d) => sum.plus(d.times(d)), ZERO);
  if (squares.isZero()) return null;
  const products = deviations
    .slice(1)
    .reduce((sum, d, index) => sum.plus(d.times(memberAt(deviations, index))), ZERO);
  return products.div(squares);
}
