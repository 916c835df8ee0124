import type { CountCategory, SUM_PARTS } from "#core/contract/records/count-method.ts";
import { groupNames, partOf } from "#core/counting/results/sum-results.ts";

/** What a line of categories is to a sum: all alike, or not. */
export type LinePart = (typeof SUM_PARTS)[number] | "none" | "mixed";

/** A group, or a category without one: what is put into sums together. */
export interface SumRow {
  readonly key: string;
  readonly name: string;
  readonly categories: readonly CountCategory[];
}

/** Groups first, then what has none; marker spores and doubtful objects belong to no sum. */
export function sumRows(categories: readonly CountCategory[]): readonly SumRow[] {
  const able = categories.filter(({ kind }) => kind === "object" || kind === "aside");
  const groups = groupNames(able).map((name) => ({
    key: `group ${name}`,
    name,
    categories: able.filter(({ group }) => group === name),
  }));
  const single = able.filter(({ group }) => group === undefined);
  return [...groups, ...single.map((one) => ({ key: one.key, name: one.name, categories: [one] }))];
}

export function partOfRow({ categories }: SumRow, sum: string): LinePart {
  const parts = new Set(categories.map((one) => partOf(one, sum) ?? "none"));
  const [only] = parts;
  return parts.size === 1 && only !== undefined ? only : "mixed";
}

function withPart(category: CountCategory, sum: string, part: LinePart): CountCategory {
  const { sums = [], ...rest } = category;
  const others = sums.filter(({ name }) => name !== sum);
  const next = part === "in" || part === "of" ? [...others, { name: sum, part }] : others;
  return next.length === 0 ? rest : { ...rest, sums: next };
}

/** The categories with those of one row put into a sum, beside it or out of it. */
export function withRowPart(
  categories: readonly CountCategory[],
  row: SumRow,
  sum: string,
  part: LinePart,
): readonly CountCategory[] {
  if (part === "mixed") return categories;
  const concerned = new Set(row.categories.map(({ key }) => key));
  return categories.map((one) => (concerned.has(one.key) ? withPart(one, sum, part) : one));
}
