import type { CountCategory } from "../../contract/records/count-method.ts";
import type { FieldCounts } from "../inputs/field-counts.ts";

/**
 * The categories that a count reports: those under a key, marker spores, and what was counted
 * at least once. A list
 * of three hundred taxa does not make three hundred lines of nothing.
 */
export function categoriesAtWork(
  categories: readonly CountCategory[],
  fields: readonly FieldCounts[],
): readonly CountCategory[] {
  return categories.filter(
    ({ key, keyCode, kind }) =>
      keyCode !== "" || kind === "marker" || fields.some(({ presses }) => (presses[key] ?? 0) > 0),
  );
}
