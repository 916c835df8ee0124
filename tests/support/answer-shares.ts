import type { PracticeResult } from "#core/contract/records/practice.ts";
import type { PracticeFigureName } from "#core/vocabulary/practice.ts";

/** Simulated readers of a test. */
export const READERS = 1000;
/** Three standard deviations of a share of 0.95 or 0.05 among them. */
export const SHARE_SCATTER = 0.021;

/** The part of a thousand readers, one for each seed, of whom something is true. */
export function partOfReaders(isTrue: (seed: number) => boolean): number {
  let hits = 0;
  for (let seed = 1; seed <= READERS; seed += 1) if (isTrue(seed)) hits += 1;
  return hits / READERS;
}

/** Whether a figure's interval holds a value. */
export function holds({ figures }: PracticeResult, name: PracticeFigureName, value: number): boolean {
  const found = figures.find((figure) => figure.name === name);
  return Number(found?.lower) <= value && value <= Number(found?.upper);
}
