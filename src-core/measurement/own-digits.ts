import { type Decimal, decimal, ONE } from "../quantity/decimal.ts";
import { readDecimal } from "../quantity/decimal-text.ts";
import { digitPreference } from "../statistics/digit-preference.ts";
import { equalDigitsP } from "../statistics/equal-digits-test.ts";
import { standardDeviation } from "../statistics/sample.ts";

/** One object read once: the edge that is estimated, as typed, and its length, div. */
export interface EstimatedEdge {
  readonly typed: string;
  readonly divisions: Decimal;
}

/** How often each final digit 0 … 9, the tenth of a division, was read. */
export type DigitCounts = readonly number[];

/** Readings that say nothing about a preference, by why. */
export interface LeftOut {
  /** The objects are alike: their digits favour each other without any preference. */
  readonly alike: number;
  /** Read to whole divisions. */
  readonly whole: number;
  /** Read finer than to tenths. */
  readonly finer: number;
}

export interface OwnDigits {
  readonly counts: DigitCounts;
  readonly leftOut: LeftOut;
}

/** Fewer objects have no spread to speak of. */
const LEAST_OF_A_GROUP = 5;
/** Fewer readings could show but the grossest preference. Our own choice. */
const LEAST_TESTED = 20;
/** Above this five are expected of each digit, and χ²'s own distribution is near enough (common practice, no source). */
const EXACT_UP_TO = 50;
/** Of readers without any preference one in a hundred is told of one, each time the page is looked at. Our own choice. */
export const PREFERENCE_RISK = 0.01;

/** The tenth of a division a reading ends in, 0 where the point was left out; null: finer than that. */
export function tenthOf(typed: string): number | null {
  const tenths = readDecimal("typed", typed).value.abs().times(10);
  return tenths.isInteger() ? tenths.mod(10).toNumber() : null;
}

const hasPoint = (typed: string): boolean => !readDecimal("typed", typed).value.isInteger();

/**
 * Final digits of groups of objects, each group read in one dimension under one name with one train. A group counts where
 * its lengths scatter by at least one division: of a normal sample of that spread every tenth is then as likely as any
 * other to 1 part in 10⁸ (first term of the wrapped normal distribution, 2·exp(−2π²s²): K. V. Mardia and P. E. Jupp:
 * Directional Statistics (2000), 3.5.7: from memory). A group whose readings never leave whole divisions was not read to
 * tenths.
 */
export function ownDigits(groups: readonly (readonly EstimatedEdge[])[]): OwnDigits {
  const counts = new Array<number>(10).fill(0);
  const leftOut = { alike: 0, whole: 0, finer: 0 };
  for (const group of groups) {
    const tenths = group.map(({ typed }) => tenthOf(typed));
    if (tenths.includes(null)) leftOut.finer += group.length;
    else if (!group.some(({ typed }) => hasPoint(typed))) leftOut.whole += group.length;
    else if (
      group.length < LEAST_OF_A_GROUP ||
      standardDeviation(group.map(({ divisions }) => divisions)).lessThan(ONE)
    )
      leftOut.alike += group.length;
    else for (const tenth of tenths) if (tenth !== null) counts[tenth] = (counts[tenth] ?? 0) + 1;
  }
  return { counts, leftOut };
}

/** Digits of readings that are shown and not tested. */
export function plainDigits(typed: readonly string[]): DigitCounts {
  const counts = new Array<number>(10).fill(0);
  for (const one of typed) {
    const tenth = tenthOf(one);
    if (tenth !== null) counts[tenth] = (counts[tenth] ?? 0) + 1;
  }
  return counts;
}

export interface DigitVerdict {
  readonly n: number;
  readonly p: number;
  /** p is below the risk. */
  readonly uneven: boolean;
  /** Digits read clearly more often than the others, most frequent first; empty unless uneven. */
  readonly preferred: readonly number[];
}

/**
 * Whether digits are read unevenly: Pearson's χ² against equal counts, with its exact p up to 50 readings; null below 20.
 */
export function digitVerdict(counts: DigitCounts): DigitVerdict | null {
  const n = counts.reduce((sum, count) => sum + count, 0);
  if (n < LEAST_TESTED) return null;
  const readings = counts.flatMap((count, digit) =>
    Array.from({ length: count }, () => decimal(digit).div(10)),
  );
  const found = digitPreference(readings, 1);
  const p = n <= EXACT_UP_TO ? equalDigitsP(counts) : found.p;
  const uneven = p < PREFERENCE_RISK;
  return { n, p, uneven, preferred: uneven ? found.preferred : [] };
}
