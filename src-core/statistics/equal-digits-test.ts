import { InputError } from "../quantity/input-error.ts";
import { requireWhole } from "./sample.ts";

/** More than this takes long, and χ²'s own distribution is exact enough by then. */
const MOST_COUNTED = 150;

/**
 * Exact p of Pearson's χ² against equal counts: the part of all ways to share n among k cells whose χ² is at least the
 * one found. χ² = k/n·Σc² − n rises with Σc², so the ways are counted by Σc²: the number of ways with counts c₁ … c_k is
 * n!/∏c!, added up cell by cell (multinomial distribution; W. Feller: An Introduction to Probability Theory and Its
 * Applications: from memory).
 * @param counts how often each cell occurred; two cells or more, at most 150 in all
 * @throws InputError for fewer than two cells, a count that is not whole, none or too many counted
 */
export function equalDigitsP(counts: readonly number[]): number {
  if (counts.length < 2) throw new InputError("counts", "needs at least 2 cells");
  counts.forEach((count, index) => {
    requireWhole(`counts.${index}`, count, 0);
  });
  const n = counts.reduce((sum, count) => sum + count, 0);
  if (n < 1 || n > MOST_COUNTED) throw new InputError("counts", `must add up to 1 to ${MOST_COUNTED}`);
  const tails = tailsOf(n, counts.length);
  return (tails[squares(counts)] as number) / (tails[0] as number);
}

/** Tails once counted: they depend on n and the number of cells alone. */
const known = new Map<string, Float64Array>();

/** By Σc², how many of all ways have at least that: as parts, each count weighed by its Poisson share, so that nothing overflows. */
function tailsOf(n: number, cells: number): Float64Array {
  const key = `${n} ${cells}`;
  const counted = known.get(key);
  if (counted) return counted;
  const most = n * n;
  const share = Array.from({ length: n + 1 }, (_, count) => poisson(count, n / cells));
  let ways = Array.from({ length: n + 1 }, () => new Float64Array(most + 1));
  (ways[0] as Float64Array)[0] = 1;
  for (let cell = 0; cell < cells; cell += 1) {
    const next = Array.from({ length: n + 1 }, () => new Float64Array(most + 1));
    ways.forEach((bySquares, used) => {
      bySquares.forEach((weight, sum) => {
        if (weight === 0) return;
        for (let count = 0; used + count <= n; count += 1) {
          const into = next[used + count] as Float64Array;
          const place = sum + count * count;
          into[place] = (into[place] as number) + weight * (share[count] as number);
        }
      });
    });
    ways = next;
  }
  const tails = ways[n] as Float64Array;
  for (let sum = most - 1; sum >= 0; sum -= 1)
    tails[sum] = (tails[sum] as number) + (tails[sum + 1] as number);
  known.set(key, tails);
  return tails;
}

function squares(counts: readonly number[]): number {
  return counts.reduce((sum, count) => sum + count * count, 0);
}

function poisson(count: number, rate: number): number {
  let value = Math.exp(-rate);
  for (let step = 1; step <= count; step += 1) value *= rate / step;
  return value;
}
