import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requireFinite } from "../quantity/input-error.ts";
import type { OrderedMoments } from "./apart-values.ts";
import { type GeometricSummary, geometricFromLogs } from "./geometric.ts";
import { keyAt, type OrderTree, rankOf, withKey, withoutKey } from "./order-tree.ts";
import { type Percentile, type PercentileType, percentileByRank } from "./percentile.ts";
import { requireLevel } from "./sample.ts";
import { type BasicSummary, spreadOf } from "./summary.ts";

/** Values are held as whole multiples of 1e-24 of their unit, so that every sum is exact and can be taken back. */
const PLACES = 24;
const SCALE = decimal(10).pow(PLACES);
const SCALE_SQUARED = SCALE.times(SCALE);
/** Logarithms are held as whole multiples of 2^-50, for the same reason. */
const LOG_SCALE = 2 ** 50;
/** Larger values are refused: no length at a microscope has thirteen digits before the point. */
const LARGEST = decimal("1e12");

function keyOf(value: Decimal): bigint {
  return BigInt(value.times(SCALE).toFixed(0));
}

/** Taken from the key, not from the value, so that removing an equal value takes back the same number. */
function logKeyOf(key: bigint): bigint {
  return BigInt(Math.round(Math.log(Number(key) / 10 ** PLACES) * LOG_SCALE));
}

/** A whole number of any length as a decimal, rounded to the working precision. */
function decimalOf(whole: bigint): Decimal {
  return decimal(whole.toString());
}

/**
 * Summary of a sample that changes row by row. Adding, removing and replacing a value cost O(log n) whatever went
 * before, and because the sums are whole numbers, taking a value out restores them exactly: no drift after any
 * sequence of corrections. Sums of squares are corrected for the mean in exact arithmetic: nΣx² − (Σx)².
 */
export class RunningSummary {
  private tree: OrderTree = null;
  private count = 0;
  private total = 0n;
  private squares = 0n;
  private logTotal = 0n;
  private logSquares = 0n;
  private notPositive = 0;

  /** How many values are held. */
  get n(): number {
    return this.count;
  }

  /** @throws InputError when the value is not finite or beyond ±1e12; nothing is changed then */
  add(value: Decimal): void {
    const key = this.checked("value", value);
    this.tree = withKey(this.tree, key);
    this.shift(key, 1);
  }

  /** Takes out one value equal to this one. @throws InputError when there is none; nothing is changed then */
  remove(value: Decimal): void {
    const key = this.checked("value", value);
    const rest = withoutKey(this.tree, key);
    if (rest === undefined) throw new InputError("value", `is not in this sample: ${value.toFixed()}`);
    this.tree = rest;
    this.shift(key, -1);
  }

  /** Puts `after` in the place of `before`. @throws InputError as `add` and `remove`; nothing is changed then */
  replace(before: Decimal, after: Decimal): void {
    this.checked("after", after);
    this.remove(before);
    this.add(after);
  }

  /** How many values are less than `limit`, O(log n). @throws InputError as `add` */
  countBelow(limit: Decimal): number {
    return rankOf(this.tree, this.checked("limit", limit));
  }

  /** Moments and order in floats, O(1) and O(log n): enough for a test, not for a printed figure. */
  moments(): OrderedMoments {
    const n = this.count;
    const count = BigInt(n);
    const squaresOf = (squares: bigint, total: bigint, scale: number): number =>
      Number(count * squares - total * total) / scale / scale / n;
    const scale = 10 ** PLACES;
    return {
      n,
      mean: Number(this.total) / scale / n,
      squares: squaresOf(this.squares, this.total, scale),
      logs:
        this.notPositive > 0
          ? null
          : {
              mean: Number(this.logTotal) / LOG_SCALE / n,
              squares: squaresOf(this.logSquares, this.logTotal, LOG_SCALE),
            },
      least: (k) => Number(keyAt(this.tree, k)) / scale,
      greatest: (k) => Number(keyAt(this.tree, n - 1 - k)) / scale,
    };
  }

  /** Percentile by the given definition, O(log n). @throws InputError when the sample is empty or p outside 0…1 */
  percentile(p: Decimal, type: PercentileType): Percentile {
    this.requireAny();
    return percentileByRank(this.count, (rank) => this.at(rank), p, type);
  }

  /**
   * The same fields as `summarise`.
   * @throws InputError when the sample is empty or the level is not inside (0, 1)
   */
  summary(level = 0.95): BasicSummary {
    this.requireAny();
    requireLevel(level);
    const n = this.count;
    const mean = decimalOf(this.total).div(SCALE).div(n);
    const squares = decimalOf(BigInt(n) * this.squares - this.total * this.total)
      .div(SCALE_SQUARED)
      .div(n);
    return {
      n,
      sum: decimalOf(this.total).div(SCALE),
      mean,
      ...spreadOf(n, mean, squares, level),
      minimum: this.at(0),
      maximum: this.at(n - 1),
      median: this.percentile(decimal("0.5"), 7).value,
      geometric: this.geometric(level),
    };
  }

  private geometric(level: number): GeometricSummary | null {
    if (this.notPositive > 0) return null;
    const n = this.count;
    const meanLog = Number(this.logTotal) / LOG_SCALE / n;
    if (n < 2) return geometricFromLogs(n, meanLog, null, level);
    const spread = BigInt(n) * this.logSquares - this.logTotal * this.logTotal;
    const variance = Number(spread) / LOG_SCALE / LOG_SCALE / n / (n - 1);
    return geometricFromLogs(n, meanLog, Math.sqrt(variance), level);
  }

  private at(rank: number): Decimal {
    return decimalOf(keyAt(this.tree, rank)).div(SCALE);
  }

  private shift(key: bigint, sign: 1 | -1): void {
    const direction = BigInt(sign);
    this.count += sign;
    this.total += direction * key;
    this.squares += direction * key * key;
    if (key <= 0n) {
      this.notPositive += sign;
      return;
    }
    const log = logKeyOf(key);
    this.logTotal += direction * log;
    this.logSquares += direction * log * log;
  }

  private checked(field: string, value: Decimal): bigint {
    requireFinite(field, value);
    if (value.abs().greaterThan(LARGEST)) throw new InputError(field, "is too large for a summary");
    return keyOf(value);
  }

  private requireAny(): void {
    if (this.count === 0) throw new InputError("values", "must not be empty");
  }
}
