import { Decimal, ONE, TWO } from "../quantity/decimal.ts";
import { requireFinite, requireNotNegative, requirePositive } from "../quantity/input-error.ts";
import { twoSidedStudent } from "../statistics/interval.ts";
import { requireLevel } from "../statistics/sample.ts";
import type { StraightLine } from "../statistics/straight-line.ts";
import type { Drift } from "./drift.ts";

/**
 * The limit a drifting factor runs towards, drawn in by its expanded uncertainty: the upper one f_ref(1 + T) − U, for a
 * rising factor, or the lower one f_ref(1 − T) + U, for a falling one (guard band as in JCGM 106:2012 8.3.2).
 * @param tolerance relative, 0.005 is 0.5 %
 */
export function guardedLimit(
  reference: Decimal,
  tolerance: Decimal,
  expanded: Decimal,
  side: LimitSide,
): Decimal {
  requirePositive("reference", reference);
  requirePositive("tolerance", tolerance);
  requireNotNegative("expanded", expanded);
  return side === "upper"
    ? reference.times(ONE.plus(tolerance)).minus(expanded)
    : reference.times(ONE.minus(tolerance)).plus(expanded);
}

/** The two days at which a band of the line meets the limit; null when it does not meet it on both sides (Fieller). */
export interface BandDays {
  readonly earliest: Decimal;
  readonly latest: Decimal;
}

/**
 * Days x at which ŷ(x) ± band meets the limit: roots of (b² − K/Sxx)ζ² + 2bAζ + A² − K(c + 1/n) = 0 with ζ = x − x̄,
 * A = ȳ − limit, K = t²s² and c = 1 for the band of one further value, 0 for that of the line (Fieller 1954, J. Royal
 * Statistical Society B 16:175; Draper and Smith, inverse prediction). Bounded only when g = t²s_b²/b² < 1.
 */
export function bandDays(
  line: StraightLine,
  limit: Decimal,
  level: number,
  band: "line" | "value",
): BandDays | null {
  requireFinite("limit", limit);
  requireLevel(level);
  const k = twoSidedStudent(level, line.degrees).times(line.residualDeviation).pow(2);
  const a = line.slope.pow(2).minus(k.div(line.sxx));
  if (!a.greaterThan(0)) return null;
  const off = line.meanY.minus(limit);
  const half = line.slope.times(off);
  const c = off.pow(2).minus(k.times(ONE.div(line.n).plus(band === "value" ? 1 : 0)));
  const discriminant = half.pow(2).minus(a.times(c));
  if (discriminant.lessThan(0)) return null;
  const root = discriminant.sqrt();
  const days = [half.negated().minus(root), half.negated().plus(root)].map((top) =>
    line.meanX.plus(top.div(a)),
  );
  return { earliest: Decimal.min(...days), latest: Decimal.max(...days) };
}

/** Which side of the limit is not allowed: above an upper one, below a lower one. */
export type LimitSide = "upper" | "lower";

/**
 * What may be said of the day a drift reaches its limit; days count from the first point of the drift.
 * `reached`: the line is on or beyond it at the last point. `away`: it does not move towards the limit.
 * `day`: the day, with the earliest credible one. `not-before`: the day lies beyond what the observed span can carry.
 * `uncertain`: the slope is too uncertain for any day.
 */
export type Reaching =
  | { readonly kind: "reached" | "away" | "uncertain" }
  | { readonly kind: "day"; readonly day: Decimal; readonly earliest: Decimal; readonly latest: Decimal }
  | { readonly kind: "not-before"; readonly day: Decimal };

/** A day beyond this many observed spans is not foretold. */
const MOST_SPANS = TWO;

/**
 * The day on which the line reaches the limit, (limit − a)/b, with the band of one further value, capped at twice the
 * observed span. Beyond the cap only a “not before” is given: the cap, or the earliest credible day if that is sooner.
 */
export function reachingDay(found: Drift, limit: Decimal, side: LimitSide, level = 0.95): Reaching {
  requireFinite("limit", limit);
  requireLevel(level);
  const { line, span } = found;
  const outwards = side === "upper" ? ONE : ONE.negated();
  const left = limit.minus(line.intercept.plus(line.slope.times(span))).times(outwards);
  if (!left.greaterThan(0)) return { kind: "reached" };
  if (!line.slope.times(outwards).greaterThan(0)) return { kind: "away" };
  const days = bandDays(line, limit, level, "value");
  if (days === null) return { kind: "uncertain" };
  const day = limit.minus(line.intercept).div(line.slope);
  const cap = span.times(MOST_SPANS);
  if (day.greaterThan(cap)) return { kind: "not-before", day: Decimal.min(cap, days.earliest) };
  return { kind: "day", day, earliest: Decimal.max(days.earliest, span), latest: days.latest };
}
