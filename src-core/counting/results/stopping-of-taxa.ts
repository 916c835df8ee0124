import type { CountCategory } from "../../contract/records/count-method.ts";
import type { CountResults } from "../../contract/records/count-results.ts";
import { countedNoun } from "../../quantity/counted-noun.ts";
import { sumOfObjects } from "../inputs/counting-unit.ts";

/** More than this many taxa are told as a number. */
const NAMED = 3;

/**
 * The stopping rules that taxa have of their own: met when each has enough objects. Null where no taxon has one.
 * @param countOf objects of a category in all fields
 */
export function stoppingOfTaxa(
  categories: readonly CountCategory[],
  countOf: (key: string) => number,
): CountResults["stopping"] | null {
  const ruled = categories.flatMap(({ key, name, enough }) =>
    enough === undefined ? [] : [{ name, enough, have: countOf(key) }],
  );
  if (ruled.length === 0) return null;
  const open = ruled.filter(({ have, enough }) => have < enough);
  const words =
    ruled.length > NAMED
      ? `${ruled.length - open.length} of ${countedNoun(ruled.length, "taxon", "taxa")} with enough objects`
      : ruled.map(({ name, have, enough }) => `${have} of ${enough} ${name}`).join(" and ");
  const missing = open
    .slice(0, NAMED)
    .map(({ name, have, enough }) => `${sumOfObjects([enough, -have])} more ${name}`);
  const rest = open.length - missing.length;
  if (rest > 0) missing.push(`${countedNoun(rest, "more taxon", "more taxa")}`);
  return { met: open.length === 0, words, missing };
}
