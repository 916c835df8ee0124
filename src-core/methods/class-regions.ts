import { type Decimal, decimal } from "../quantity/decimal.ts";
import { type ClassTable, classify, limitOf, wordsOf } from "./class-table.ts";

/** A stretch of values with the same words. It begins at `from` itself or, where `opens`, just above it. */
export interface ClassRegion {
  /** Null: without lower end. */
  readonly from: Decimal | null;
  readonly opens: boolean;
  readonly words: string;
}

/** Every limit of a table, once each, rising. */
function limitsOf({ classes }: ClassTable): Decimal[] {
  const all = classes.flatMap(({ from, to }, index) =>
    [from, to].flatMap((limit) => (limit === null ? [] : limitOf(`classes.${index}`, limit))),
  );
  all.sort((a, b) => a.comparedTo(b));
  return all.filter((limit, index) => index === 0 || !limit.equals(all[index - 1] ?? limit.plus(1)));
}

/**
 * A class table as one rising list that a value is looked up in: the last region that begins at or below it holds its
 * words, those of limits, gaps and either outside included, as `classify` gives them.
 * @throws InputError when the table is not in order
 */
export function classRegions(table: ClassTable): ClassRegion[] {
  const limits = limitsOf(table);
  const wordsAt = (value: Decimal): string => wordsOf(classify(value, table));
  const regions: ClassRegion[] = [];
  const add = (from: Decimal | null, opens: boolean, inside: Decimal): void => {
    const words = wordsAt(inside);
    if (regions.at(-1)?.words !== words) regions.push({ from, opens, words });
  };
  limits.forEach((limit, index) => {
    if (index === 0) add(null, false, limit.minus(1));
    add(limit, false, limit);
    const next = limits[index + 1];
    add(limit, true, next ? limit.plus(next).div(2) : limit.plus(1));
  });
  if (limits.length === 0) add(null, false, decimal(0));
  return regions;
}
