import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import type { CountResults } from "#core/contract/records/count-results.ts";
import type { AreaFactor } from "#core/counting/areas/counting-area.ts";
import { textOfThousandths } from "#core/counting/inputs/counting-unit.ts";
import type { FieldCounts } from "#core/counting/inputs/field-counts.ts";
import { countResults } from "#core/counting/results/count-results.ts";
import type { CountingState, LiveField } from "./counting-state.ts";

/** Fields as the core takes them: a field that no press has touched since is not made again. */
const made = new WeakMap<LiveField, FieldCounts>();

/** One field as the core takes it. */
export function fieldCounts(field: LiveField): FieldCounts {
  const known = made.get(field);
  if (known) return known;
  const counts = Object.fromEntries(
    Object.entries(field.thousandths).map(([key, thousandths]) => [key, textOfThousandths(thousandths)]),
  );
  const fresh = { counts, presses: { ...field.presses } };
  made.set(field, fresh);
  return fresh;
}

/** Seconds counted up to a moment, as the host reckons them. */
export function secondsCounted(
  { secondsBefore, runningSince }: CountingState["count"],
  nowMs: number,
): number {
  const since = runningSince === null ? 0 : Math.floor((nowMs - Date.parse(runningSince)) / 1000);
  return secondsBefore + Math.max(0, since);
}

/** What the count says at this moment, by the core function that also freezes it at its end. */
export function liveResults(
  state: CountingState,
  around: { readonly definition: CountMethodDefinition; readonly factor: AreaFactor | null },
  nowMs: number,
): CountResults {
  const { count, fields } = state;
  return countResults({
    definition: around.definition,
    categories: count.categories,
    inputs: count.inputs,
    factor: around.factor,
    fields: fields.map(fieldCounts),
    lastFieldCounted: count.lastFieldCounted,
    trainCautions: count.trainCautions,
    seconds: secondsCounted(count, nowMs),
  });
}
