import type { CountCategory, CountMethodDefinition } from "../../contract/records/count-method.ts";
import type { StoppingRule } from "../../vocabulary/counting.ts";
import { withAutomaticKeys } from "./automatic-keys.ts";

function classesOf(rule: StoppingRule | null): readonly string[] {
  if (rule === null) return [];
  if (rule.kind === "all" || rule.kind === "any") return rule.rules.flatMap(classesOf);
  return rule.kind === "units" ? (rule.classes ?? []) : [];
}

/** What a count by a list still needs of its method: the categories that its rule names, and marker spores if the list has none. */
export function neededOfMethod(
  { categories, stopping }: CountMethodDefinition,
  list: readonly CountCategory[],
): CountCategory[] {
  const named = classesOf(stopping.rule);
  const hasMarker = list.some(({ kind }) => kind === "marker");
  return categories.filter(({ key, kind }) => (kind === "marker" && !hasMarker) || named.includes(key));
}

/**
 * Categories of a list under a method: what the method needs first, under its keys, then the list. A key that both want
 * stays with the method; the list's category gets one that is free, or none and is found by its letters.
 */
export function categoriesOfList(
  list: readonly CountCategory[],
  definition: CountMethodDefinition,
): CountCategory[] {
  const needed = neededOfMethod(definition, list).filter((one) => !list.some(({ key }) => key === one.key));
  const taken = new Set(needed.map(({ keyCode }) => keyCode));
  const clear = list.map((one) => (taken.has(one.keyCode) ? { ...one, keyCode: "" } : one));
  const moved = new Set(clear.filter(({ keyCode }, i) => keyCode !== list[i]?.keyCode).map(({ key }) => key));
  const keyed = withAutomaticKeys(
    [...needed, ...clear].filter(({ key, keyCode }) => keyCode !== "" || moved.has(key)),
  );
  return [...needed, ...clear].map((one) => keyed.find(({ key }) => key === one.key) ?? one);
}
