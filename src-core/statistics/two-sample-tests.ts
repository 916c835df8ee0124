import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";
import { studentTwoSidedP } from "./distributions.ts";
import { type Interval, studentInterval } from "./interval.ts";
import { mean, memberAt, requireLevel, requireSample, standardDeviation } from "./sample.ts";

export interface DifferenceTest {
  /** Mean of first − second. */
  readonly difference: Decimal;
  readonly standardError: Decimal;
  /** Null when the differences have no spread. */
  readonly t: Decimal | null;
  /** ν. */
  readonly degrees: Decimal;
  /** Two-sided. */
  readonly p: number;
  readonly interval: Interval;
}

function testOf(
  difference: Decimal,
  standardError: Decimal,
  degrees: Decimal,
  level: number,
): DifferenceTest {
  const nu = degrees.toNumber();
  const interval = studentInterval(difference, standardError, nu, level);
  if (standardError.isZero()) {
    return { difference, standardError, t: null, degrees, p: difference.isZero() ? 1 : 0, interval };
  }
  const t = difference.div(standardError);
  return { difference, standardError, t, degrees, p: studentTwoSidedP(t.toNumber(), nu), interval };
}

/** Differences first − second, pair by pair. @throws InputError when the lengths differ or there are fewer than two pairs */
export function pairedDifferences(first: readonly Decimal[], second: readonly Decimal[]): Decimal[] {
  requireSample("first", first, 2);
  requireSample("second", second, 2);
  if (first.length !== second.length) {
    throw new InputError(
      "second",
      `needs one value for each of the first, ${first.length}, got ${second.length}`,
    );
  }
  return first.map((value, index) => value.minus(memberAt(second, index)));
}

/** Mean of paired differences by Student's t, ν = n − 1 (Student 1908, Biometrika 6:1). */
export function pairedTest(
  first: readonly Decimal[],
  second: readonly Decimal[],
  level = 0.95,
): DifferenceTest {
  requireLevel(level);
  const differences = pairedDifferences(first, second);
  const n = differences.length;
  const standardError = standardDeviation(differences).div(decimal(n).sqrt());
  return testOf(mean(differences), standardError, decimal(n - 1), level);
}
