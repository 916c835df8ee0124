import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requireFinite } from "../quantity/input-error.ts";
import { memberAt, requireSample, sorted } from "./sample.ts";

/**
 * Definitions of a sample percentile by Hyndman and Fan 1996 (The American Statistician 50:361). 7: spreadsheet
 * PERCENTILE.INC; 6: PERCENTILE.EXC and the NIST/SEMATECH e-Handbook 7.2.6.2; 8: recommended by the authors;
 * 5: mid-rank. A report must name the one it used.
 */
export const PERCENTILE_TYPES = [5, 6, 7, 8] as const;
export type PercentileType = (typeof PERCENTILE_TYPES)[number];

export interface Percentile {
  readonly value: Decimal;
  /** True when the definition asks for a position outside the sample, so that the least or largest value stands in. */
  readonly clamped: boolean;
}

const THIRD = decimal(1).div(3);

/** Position h of the percentile in the sample of n, counted from 1. */
const POSITIONS: { readonly [T in PercentileType]: (n: number, p: Decimal) => Decimal } = {
  5: (n, p) => p.times(n).plus("0.5"),
  6: (n, p) => p.times(n + 1),
  7: (n, p) => p.times(n - 1).plus(1),
  8: (n, p) => p.times(decimal(n).plus(THIRD)).plus(THIRD),
};

/** @throws InputError when p is not within 0…1 */
export function requireShare(field: string, p: Decimal): void {
  requireFinite(field, p);
  if (p.lessThan(0) || p.greaterThan(1)) throw new InputError(field, "must lie between 0 and 1");
}

/**
 * Percentile of n ordered values that are reached one at a time.
 * @param at the value of rank k, counted from 0
 */
export function percentileByRank(
  n: number,
  at: (rank: number) => Decimal,
  p: Decimal,
  type: PercentileType,
): Percentile {
  requireShare("p", p);
  const position = POSITIONS[type](n, p);
  if (position.lessThan(1)) return { value: at(0), clamped: true };
  if (position.greaterThan(n)) return { value: at(n - 1), clamped: true };
  const below = position.floor().toNumber();
  const part = position.minus(below);
  const lower = at(below - 1);
  if (part.isZero()) return { value: lower, clamped: false };
  return { value: lower.plus(part.times(at(below).minus(lower))), clamped: false };
}

/**
 * Percentile of a sample: linear interpolation between neighbouring values at the position its type defines.
 * @param p share, 0…1
 * @throws InputError when the sample is empty, a value is not finite or p is outside 0…1
 */
export function percentile(values: readonly Decimal[], p: Decimal, type: PercentileType): Percentile {
  requireSample("values", values, 1);
  const rising = sorted(values);
  return percentileByRank(rising.length, (rank) => memberAt(rising, rank), p, type);
}
