import type { CountEvent, CountField } from "../../contract/records/count.ts";
import type { CountCategory } from "../../contract/records/count-method.ts";
import { sumOfObjects, thousandthsOf } from "./counting-unit.ts";

/** Counts of one field, by category key: objects as decimal text and presses. */
export type FieldCounts = Pick<CountField, "counts" | "presses">;

/** Objects of some categories in a field. */
export function objectsIn(field: FieldCounts, keys: readonly string[]): number {
  return sumOfObjects(keys.map((key) => Number(field.counts[key] ?? "0")));
}

/** Objects of some categories in several fields. */
export function objectsInAll(fields: readonly FieldCounts[], keys: readonly string[]): number {
  return sumOfObjects(fields.map((field) => objectsIn(field, keys)));
}

export function keysOfKind(
  categories: readonly CountCategory[],
  kind: CountCategory["kind"],
): readonly string[] {
  return categories.filter((category) => category.kind === kind).map((category) => category.key);
}

/** What a sequence of events says is in every field; struck events count nothing. */
export interface ReplayedCounts {
  /** Thousandths of objects and presses by field (1, 2 …) and category. */
  readonly fields: ReadonlyMap<number, ReadonlyMap<string, { thousandths: number; presses: number }>>;
  readonly currentField: number;
}

type ReplayedEvent = Pick<CountEvent, "kind" | "field" | "category" | "weight" | "sequence" | "strikes">;

/**
 * Plays a whole sequence again from its first event: presses add, new fields step on, an undo takes back what it names.
 * This is how verify and a replay on screen find the counts without trusting any stored sum.
 */
export function replayEvents(events: Iterable<ReplayedEvent>): ReplayedCounts {
  const fields = new Map<number, Map<string, { thousandths: number; presses: number }>>();
  const kept: ReplayedEvent[] = [];
  let currentField = 1;
  const add = (event: ReplayedEvent, sign: 1 | -1) => {
    if (event.category === null || event.weight === null) return;
    const field = fields.get(event.field) ?? new Map<string, { thousandths: number; presses: number }>();
    fields.set(event.field, field);
    const cell = field.get(event.category) ?? { thousandths: 0, presses: 0 };
    cell.thousandths += sign * thousandthsOf(event.weight);
    cell.presses += sign;
    field.set(event.category, cell);
  };
  for (const event of events) {
    if (event.kind === "undo") {
      const struck = kept.at(-1)?.sequence === event.strikes ? kept.pop() : undefined;
      if (struck?.kind === "field") currentField = struck.field - 1;
      else if (struck) add(struck, -1);
      continue;
    }
    kept.push(event);
    if (event.kind === "field") currentField = event.field;
    else add(event, 1);
  }
  return { fields, currentField };
}
