import type { CountCategory, SUM_PARTS } from "../../contract/records/count-method.ts";
import type { SumLine, SumResult } from "../../contract/records/count-results.ts";
import { decimal } from "../../quantity/decimal.ts";
import { textOfDecimal } from "../../quantity/decimal-text.ts";
import { sumOfObjects } from "../inputs/counting-unit.ts";
import { roundStable } from "../intervals/count-checks.ts";
import { shareBesideSum, shareInSum } from "../intervals/share-of-sum.ts";

type Part = (typeof SUM_PARTS)[number];

/** Names of all sums, in the order in which the categories name them first. */
export function sumNames(categories: readonly CountCategory[]): readonly string[] {
  return [...new Set(categories.flatMap(({ sums = [] }) => sums.map(({ name }) => name)))];
}

/** Names of all groups, first named first. */
export function groupNames(categories: readonly CountCategory[]): readonly string[] {
  return [...new Set(categories.flatMap(({ group }) => (group === undefined ? [] : [group])))];
}

/** What a category is to a sum; null: nothing. */
export function partOf({ sums = [] }: CountCategory, sum: string): Part | null {
  return sums.find(({ name }) => name === sum)?.part ?? null;
}

interface Counted {
  readonly category: CountCategory;
  readonly count: number;
}

type Named = Pick<SumLine, "of" | "key" | "name" | "part">;

function lineOf(named: Named, count: number, sum: number): SumLine {
  const { proportion, lower, upper } =
    named.part === "in" ? shareInSum(count, sum) : shareBesideSum(count, sum);
  return {
    ...named,
    count: textOfDecimal(decimal(count)),
    proportion: roundStable(proportion),
    lower: roundStable(lower),
    upper: roundStable(upper),
  };
}

const totalOf = (counted: readonly Counted[]): number => sumOfObjects(counted.map(({ count }) => count));

function linesOf(name: string, counted: readonly Counted[]): SumResult {
  const withPart = (part: Part) => counted.filter(({ category }) => partOf(category, name) === part);
  const sum = totalOf(withPart("in"));
  const lines: SumLine[] = [];
  for (const part of sum > 0 ? (["in", "of"] as const) : []) {
    const members = withPart(part);
    for (const group of groupNames(members.map(({ category }) => category))) {
      const own = members.filter(({ category }) => category.group === group);
      lines.push(lineOf({ of: "group", key: group, name: group, part }, totalOf(own), sum));
    }
    for (const { category, count } of members) {
      lines.push(lineOf({ of: "category", key: category.key, name: category.name, part }, count, sum));
    }
  }
  return { name, count: textOfDecimal(decimal(sum)), lines };
}

/**
 * Every sum of a count: its objects, then groups and categories inside it as percentages of a whole, then those given
 * as per cent of it from outside. Doubtful objects and marker spores belong to none.
 */
export function sumResults(
  categories: readonly CountCategory[],
  countOf: (key: string) => number,
): SumResult[] {
  const counted = categories.map((category) => ({ category, count: countOf(category.key) }));
  return sumNames(categories).map((name) => linesOf(name, counted));
}
