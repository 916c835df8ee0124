import { z } from "zod";
import type { CategoryList } from "#core/contract/records/category-list.ts";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { Name, Note, Reason } from "#core/contract/records/primitives.ts";
import { listText, type ReadList, readListText } from "#core/counting/lists/list-text.ts";
import { requireCategories } from "#core/counting/methods/count-method-check.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { problemsBySchema } from "../../../parts/form/form-checks.ts";
import type { FieldErrors } from "../../../parts/form/form-values.ts";

/** A list as typed or pasted. */
export interface ListValues {
  readonly name: string;
  /** Cells of a spreadsheet or text of a CSV file. */
  readonly text: string;
  readonly leaveOut: boolean;
  /** Why names have changed; empty: open counts keep the old ones. */
  readonly carryReason: string;
  readonly note: string;
}

export function valuesOfList(list: CategoryList | null): ListValues {
  const { name = "", categories = [], note = "" } = list?.definition ?? {};
  const text = categories.length === 0 ? "" : listText(categories);
  return { name, text, leaveOut: false, carryReason: "", note };
}

export function readList({ text }: Pick<ListValues, "text">, before: CategoryList | null): ReadList {
  return readListText(text, before?.definition.categories ?? []);
}

export function takenOf({ lines }: ReadList): CountCategory[] {
  return lines.flatMap(({ category }) => category ?? []);
}

function problemOfLines(read: ReadList, leaveOut: boolean): string | null {
  const refused = read.lines.filter((line) => line.refused !== null).length;
  if (read.lines.length === 0) return "is empty: paste cells of a spreadsheet, or choose a CSV file";
  if (refused > 0 && !leaveOut) {
    return `has ${countedNoun(refused, "refused line")}: correct what stands beside it, or leave refused lines out`;
  }
  try {
    requireCategories(takenOf(read));
    return null;
  } catch (error) {
    if (error instanceof InputError) return error.reason;
    throw error;
  }
}

/** What is wrong with the typed list, at its fields. */
export function problemsOfList(values: ListValues, before: CategoryList | null): FieldErrors {
  const { name, note, carryReason, leaveOut } = values;
  const text = problemOfLines(readList(values, before), leaveOut);
  return {
    ...problemsBySchema(z.strictObject({ name: Name, note: Note }), { name, note }),
    ...(carryReason.trim() === ""
      ? {}
      : problemsBySchema(z.strictObject({ carryReason: Reason }), { carryReason })),
    ...(text === null ? {} : { text }),
  };
}
