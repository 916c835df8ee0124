import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import type { TallyResults } from "#core/contract/records/tally-results.ts";
import type { AreaFactor } from "#core/counting/areas/counting-area.ts";
import { textOfThousandths } from "#core/counting/inputs/counting-unit.ts";
import type { FieldCounts } from "#core/counting/inputs/tally-counts.ts";
import { tallyResults } from "#core/counting/results/tally-results.ts";
import type { CountingState, LiveField } from "./counting-state.ts";

/** Fields as the core takes them: a field that no press has touched since is not made again. */
const made = new WeakMap<LiveField, FieldCounts>();

function fieldCounts(field: LiveField): FieldCounts {
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
  { secondsBefore, runningSince }: CountingState["tally"],
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
): TallyResults {
  const { tally, fields } = state;
  return tallyResults({
    definition: around.definition,
    categories: tally.categories,
    inputs: tally.inputs,
    factor: around.factor,
    fields: fields.map(fieldCounts),
    lastFieldCounted: tally.lastFieldCounted,
    trainCautions: tally.trainCautions,
    seconds: secondsCounted(tally, nowMs),
  });
}
