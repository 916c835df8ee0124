import type { PracticeCriteria, PracticeResult } from "../../contract/records/practice.ts";
import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { decimalOfText, textOfDecimal } from "../../quantity/decimal-text.ts";
import { digitPreference } from "../../statistics/digit-preference.ts";
import { chiSquaredQuantile, studentQuantile } from "../../statistics/distributions.ts";
import { equalDigitsP } from "../../statistics/equal-digits-test.ts";
import { deviationInterval, studentInterval, twoSidedStudent } from "../../statistics/interval.ts";
import { mean, median, standardDeviation } from "../../statistics/sample.ts";
import { straightLine } from "../../statistics/straight-line.ts";
import { figure } from "./figure.ts";

/** Of all intervals. */
const LEVEL = 0.95;
/** Risk of each of the two criteria: a reader exactly at both fails at most one time in twenty. */
const RISK = 0.025;

export interface JudgedReading {
  readonly reading: Decimal;
  readonly truth: Decimal;
  readonly seconds: Decimal;
}

/**
 * Scores readings in tenths against the truth, in divisions: mean error with Student's interval, standard deviation of
 * the errors with its χ² interval (JCGM 100:2008 4.2.2, C.3), final digits by χ² with exact p, the change of |error| over
 * the run as the slope of a straight line, median time.
 *
 * A criterion counts as exceeded where the errors show it: |mean| > limit + t₀.₉₇₅(ν)·s/√n, or s² > limit²·χ²₀.₉₇₅(ν)/ν.
 * A reader exactly at one limit thus fails at most 2.5 % of the time, at both at most 5 %.
 */
export function scoreReadings(
  readings: readonly JudgedReading[],
  criteria: PracticeCriteria,
): PracticeResult {
  const errors = readings.map(({ reading, truth }) => reading.minus(truth));
  const n = errors.length;
  const bias = mean(errors);
  const scatter = standardDeviation(errors);
  const standardError = scatter.div(decimal(n).sqrt());
  const mostBias = decimalOfText("mostBias", criteria.mostBias);
  const mostScatter = decimalOfText("mostScatter", criteria.mostScatter);
  const biased = bias.abs().greaterThan(mostBias.plus(standardError.times(studentQuantile(1 - RISK, n - 1))));
  const scattered = scatter.greaterThan(
    mostScatter.times(
      decimal(chiSquaredQuantile(1 - RISK, n - 1))
        .div(n - 1)
        .sqrt(),
    ),
  );
  const { counts } = digitPreference(
    readings.map(({ reading }) => reading),
    1,
  );
  const line = straightLine(errors.map((error, index) => ({ x: decimal(index + 1), y: error.abs() })));
  const slopeReach = line.slopeError.times(twoSidedStudent(LEVEL, line.degrees));
  const biasInterval = studentInterval(bias, standardError, n - 1, LEVEL);
  const scatterInterval = scatter.isZero() ? null : deviationInterval(scatter, n, LEVEL);
  return {
    verdict: biased || scattered ? "not met" : "met",
    figures: [
      figure("bias", bias, biasInterval, mostBias, biased),
      figure("scatter", scatter, scatterInterval, mostScatter, scattered),
      figure("digits", decimal(equalDigitsP(counts))),
      figure("learning", line.slope, {
        lower: line.slope.minus(slopeReach),
        upper: line.slope.plus(slopeReach),
      }),
      figure("seconds", median(readings.map(({ seconds }) => seconds))),
    ],
    digits: [...counts],
    readings: readings.map(({ truth }, index) => ({
      truth: textOfDecimal(truth),
      error: textOfDecimal(errors[index] as Decimal),
    })),
  };
}
