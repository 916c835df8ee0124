import type { PracticeCriteria, PracticeResult } from "../../contract/records/practice.ts";
import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { decimalOfText, textOfDecimal } from "../../quantity/decimal-text.ts";
import { studentQuantile } from "../../statistics/distributions.ts";
import { deviationInterval, studentInterval } from "../../statistics/interval.ts";
import { mean, median, standardDeviation } from "../../statistics/sample.ts";
import { figure } from "./figure.ts";

const LEVEL = 0.95;
const RISK = 0.025;

export interface JudgedSetting {
  readonly divisions: Decimal;
  readonly lengthUm: Decimal;
  /** How far the slide was left turned when it was read. */
  readonly turnedDeg: Decimal;
  readonly seconds: Decimal;
}

/**
 * Scores settings of a micrometer against the drawn factor, in per cent of it: mean of the ratios length/divisions with
 * Student's interval, their standard deviation, E_n = |mean error|/U with U = t₀.₉₇₅(ν)·s/√n (ISO 13528:2022, E_n score,
 * from memory; the drawn factor has no uncertainty), the mean span used, and the mean turn left in the slide either way.
 *
 * The factor counts as off where the settings show it: |mean error| > limit + U. The span counts as too short where its
 * mean is below the criterion.
 */
export function scoreSettings(
  settings: readonly JudgedSetting[],
  truthUm: Decimal,
  criteria: PracticeCriteria,
): PracticeResult {
  const errors = settings.map(({ divisions, lengthUm }) =>
    lengthUm.div(divisions).div(truthUm).minus(1).times(100),
  );
  const n = errors.length;
  const error = mean(errors);
  const scatter = standardDeviation(errors);
  const standardError = scatter.div(decimal(n).sqrt());
  const reach = standardError.times(studentQuantile(1 - RISK, n - 1));
  const most = decimalOfText("mostFactorError", criteria.mostFactorError);
  const least = decimalOfText("leastSpan", criteria.leastSpan);
  const span = mean(settings.map(({ divisions }) => divisions));
  const off = error.abs().greaterThan(most.plus(reach));
  const short = span.lessThan(least);
  return {
    verdict: off || short ? "not met" : "met",
    figures: [
      figure("factor", error, studentInterval(error, standardError, n - 1, LEVEL), most, off),
      figure("settings", scatter, scatter.isZero() ? null : deviationInterval(scatter, n, LEVEL)),
      ...(reach.isZero() ? [] : [figure("en", error.abs().div(reach))]),
      figure("span", span, null, least, short),
      figure("turned", mean(settings.map(({ turnedDeg }) => turnedDeg.abs()))),
      figure("seconds", median(settings.map(({ seconds }) => seconds))),
    ],
    digits: null,
    readings: errors.map((one) => ({ truth: textOfDecimal(truthUm), error: textOfDecimal(one) })),
  };
}
