import { type Decimal, decimal, ONE, sumOf } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";
import { type Interval, intervalAround, studentInterval } from "./interval.ts";
import { oneWayAnova } from "./one-way-anova.ts";
import { mean, standardDeviation } from "./sample.ts";
import { pairedDifferences, pairedTest } from "./two-sample-tests.ts";

/** Multiplier of the limits of agreement as Bland and Altman use it. */
const AGREEMENT_Z = decimal("1.96");

export interface ReaderAgreement {
  readonly n: number;
  /** Mean of second − first: the bias of the second reader. */
  readonly bias: Decimal;
  readonly biasInterval: Interval;
  /** Standard deviation of the differences. */
  readonly deviation: Decimal;
  /** bias ± 1.96·s: where 95 % of differences between these readers are expected. */
  readonly limits: Interval;
  /** Intervals of the two limits themselves. */
  readonly lowerLimitInterval: Interval;
  readonly upperLimitInterval: Interval;
  /** Student's test of the bias; t is null when all differences are equal. */
  readonly t: Decimal | null;
  readonly p: number;
  /** Technical error of measurement √(Σd²/2n), unit of the readings. */
  readonly technicalError: Decimal;
  /** The same relative to the mean of all readings, a pure number; null when that is zero. */
  readonly relativeTechnicalError: Decimal | null;
}

/**
 * How two readers of the same objects agree: bias and limits of agreement (Bland and Altman 1986, Lancet i:307;
 * intervals of the limits by their 1999 formula, Stat. Methods Med. Res. 8:135) and technical error (Dahlberg 1940).
 * @param first readings of the first reader, one per object
 * @param second readings of the second reader in the same order
 * @throws InputError when the lengths differ or there are fewer than two objects
 */
export function readerAgreement(
  first: readonly Decimal[],
  second: readonly Decimal[],
  level = 0.95,
): ReaderAgreement {
  const differences = pairedDifferences(second, first);
  const test = pairedTest(second, first, level);
  const n = differences.length;
  const deviation = standardDeviation(differences);
  const limits = intervalAround(test.difference, deviation.times(AGREEMENT_Z));
  const limitError = ONE.div(n)
    .plus(AGREEMENT_Z.pow(2).div(2 * (n - 1)))
    .sqrt()
    .times(deviation);
  const technicalError = sumOf(differences.map((d) => d.pow(2)))
    .div(2 * n)
    .sqrt();
  const overall = mean([...first, ...second]);
  return {
    n,
    bias: test.difference,
    biasInterval: test.interval,
    deviation,
    limits,
    lowerLimitInterval: studentInterval(limits.lower, limitError, n - 1, level),
    upperLimitInterval: studentInterval(limits.upper, limitError, n - 1, level),
    t: test.t,
    p: test.p,
    technicalError,
    relativeTechnicalError: overall.isZero() ? null : technicalError.div(overall.abs()),
  };
}

export interface ReaderPrecision {
  /** s_r: one reader, repeated. */
  readonly repeatability: Decimal;
  /** s_L: between readers. */
  readonly betweenReaders: Decimal;
  /** s_R = √(s_L² + s_r²): any reader. */
  readonly reproducibility: Decimal;
  /** 2.8·s: two single readings differ by more in 1 of 20 cases (ISO 5725-6:1994 4.1.4). */
  readonly repeatabilityLimit: Decimal;
  readonly reproducibilityLimit: Decimal;
  readonly p: number | null;
}

/**
 * Precision of several readers of one and the same object (ISO 5725-2:1994 7.4, a reader standing for a laboratory).
 * @param readings one list per reader
 * @throws InputError for fewer than two readers, or when no reader repeated
 */
export function readerPrecision(readings: readonly (readonly Decimal[])[]): ReaderPrecision {
  if (readings.length < 2) throw new InputError("readings", "needs at least 2 readers");
  const anova = oneWayAnova(readings);
  const repeatability = anova.withinDeviation;
  const betweenReaders = anova.betweenDeviation;
  const reproducibility = repeatability.pow(2).plus(betweenReaders.pow(2)).sqrt();
  return {
    repeatability,
    betweenReaders,
    reproducibility,
    repeatabilityLimit: repeatability.times("2.8"),
    reproducibilityLimit: reproducibility.times("2.8"),
    p: anova.p,
  };
}
