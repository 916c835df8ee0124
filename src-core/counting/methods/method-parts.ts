import type { CountCategory, CountMethodDefinition } from "../../contract/records/count-method.ts";
import type { ClassTable } from "../../methods/class-table.ts";
import type { NamedStoppingRule } from "./stopping-rule.ts";
import { STOPPING_RULES } from "./stopping-rules.ts";

/** A category under its key; what counts in the total and takes whole objects unless it says otherwise. */
export function categoryUnder(
  keyCode: string,
  key: string,
  name: string,
  more: Partial<Pick<CountCategory, "kind" | "halves">> = {},
): CountCategory {
  return { key, name, keyCode, kind: "object", halves: false, ...more };
}

/** The doubtful key, where the thumb finds it. */
export const DOUBTFUL: CountCategory = categoryUnder("Numpad0", "doubtful", "doubtful", { kind: "doubtful" });

/** A stopping rule of the library as a method carries it. */
export function stoppingBy(id: (typeof STOPPING_RULES)[number]["id"]): CountMethodDefinition["stopping"] {
  const found: NamedStoppingRule | undefined = STOPPING_RULES.find((rule) => rule.id === id);
  if (!found) throw new Error(`stopping rule ${id} is not in the library`);
  const { name, rule, source, standing } = found;
  return { name, rule, source, standing };
}

/** A class table as a method carries it. */
export function tableOf(table: ClassTable): NonNullable<CountMethodDefinition["shareClasses"]> {
  return { ...table, classes: table.classes.map((entry) => ({ ...entry })) };
}

/** What most methods leave as it is. */
export const PLAIN = {
  suggestedInputs: {},
  edgeRuleId: null,
  shareClasses: null,
  densityClasses: null,
  leastReportedObjects: "",
  wantedPrecision: "0.1",
  cautions: [],
  note: "",
} as const satisfies Partial<Record<keyof CountMethodDefinition, unknown>>;
