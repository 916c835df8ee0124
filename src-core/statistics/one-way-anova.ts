import { type Decimal, decimal, ONE, ZERO } from "../quantity/decimal.ts";
import { InputError, requireCount, requireFinite, requireNotNegative } from "../quantity/input-error.ts";
import { fUpperP } from "./distributions.ts";
import { mean, requireSample, requireWhole, sumOfSquaredDeviations } from "./sample.ts";

/** A group of readings as its number, mean and standard deviation (n − 1); enough for a one-way analysis. */
export interface GroupSummary {
  readonly n: number;
  readonly mean: Decimal;
  /** Σ(x − x̄)² within the group. */
  readonly squares: Decimal;
}

export interface AnovaLine {
  readonly degrees: number;
  readonly squares: Decimal;
  readonly meanSquare: Decimal;
}

export interface OneWayAnova {
  readonly between: AnovaLine;
  readonly within: AnovaLine;
  readonly grandMean: Decimal;
  /** MSbetween/MSwithin; null when no group has spread. */
  readonly f: Decimal | null;
  readonly p: number | null;
  /** SSbetween/SStotal; null when nothing varies. */
  readonly rSquared: Decimal | null;
  /** √MSwithin. */
  readonly withinDeviation: Decimal;
  /** √((MSbetween − MSwithin)/n₀), 0 when negative: how far the groups themselves differ. */
  readonly betweenDeviation: Decimal;
  /** n₀ = (N − Σnᵢ²/N)/(k − 1): the readings per group, or their equivalent when groups differ in size. */
  readonly effectiveSize: Decimal;
}

/** A group from its readings. @throws InputError when it is empty */
export function groupOf(values: readonly Decimal[], field = "values"): GroupSummary {
  requireSample(field, values, 1);
  return { n: values.length, mean: mean(values), squares: sumOfSquaredDeviations(values) };
}

/** A group from its printed mean and standard deviation (n − 1). */
export function groupFromPrinted(n: number, groupMean: Decimal, deviation: Decimal): GroupSummary {
  requireWhole("n", n, 2);
  requireFinite("mean", groupMean);
  requireNotNegative("deviation", deviation);
  return { n, mean: groupMean, squares: deviation.pow(2).times(n - 1) };
}

function line(degrees: number, squares: Decimal): AnovaLine {
  return { degrees, squares, meanSquare: squares.div(degrees) };
}

/**
 * One-way analysis of variance with its variance components (ISO 5725-2:1994 7.4; NIST/SEMATECH e-Handbook 1.3.5.4);
 * groups may differ in size.
 * @throws InputError for fewer than two groups, or when no group has two readings
 */
export function anovaOfGroups(groups: readonly GroupSummary[]): OneWayAnova {
  requireCount("groups", groups, 2);
  const total = groups.reduce((sum, group) => sum + group.n, 0);
  const withinDegrees = total - groups.length;
  if (withinDegrees < 1) throw new InputError("groups", "need at least one group with two readings");
  const grandMean = groups.reduce((sum, group) => sum.plus(group.mean.times(group.n)), ZERO).div(total);
  const betweenSquares = groups.reduce(
    (sum, group) => sum.plus(group.mean.minus(grandMean).pow(2).times(group.n)),
    ZERO,
  );
  const withinSquares = groups.reduce((sum, group) => sum.plus(group.squares), ZERO);
  const between = line(groups.length - 1, betweenSquares);
  const within = line(withinDegrees, withinSquares);
  const sizeSquares = groups.reduce((sum, group) => sum + group.n ** 2, 0);
  const effectiveSize = decimal(total)
    .minus(decimal(sizeSquares).div(total))
    .div(groups.length - 1);
  const component = between.meanSquare.minus(within.meanSquare).div(effectiveSize);
  const f = within.meanSquare.isZero() ? null : between.meanSquare.div(within.meanSquare);
  const all = betweenSquares.plus(withinSquares);
  return {
    between,
    within,
    grandMean,
    f,
    p: f === null ? null : fUpperP(f.toNumber(), between.degrees, within.degrees),
    rSquared: all.isZero() ? null : ONE.minus(withinSquares.div(all)),
    withinDeviation: within.meanSquare.sqrt(),
    betweenDeviation: component.greaterThan(0) ? component.sqrt() : ZERO,
    effectiveSize,
  };
}

/** `anovaOfGroups` from the readings. @throws InputError also when a group is empty or a reading not finite */
export function oneWayAnova(groups: readonly (readonly Decimal[])[]): OneWayAnova {
  return anovaOfGroups(groups.map((values, index) => groupOf(values, `groups.${index}`)));
}
