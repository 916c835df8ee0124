import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { FlagKey } from "#core/vocabulary/flag.ts";
import { type GridState, objectiveInUse } from "../../grid/grid-state.ts";
import type { ToneName } from "../../sound/tones.ts";

/** What the ear is told of one change of the grid. */
export interface Cue {
  readonly tone: ToneName;
  /** Spoken after the tone; null: the tone says it all. */
  readonly words: string | null;
}

/** The flags of a value that are worth a tone. */
export type FlagsToTell = (row: SpecimenRow, measured: Measurement) => readonly FlagKey[];

function lastMeasurement(state: GridState): Measurement | undefined {
  const { lastResult } = state;
  return lastResult?.row.measurements.find((one) => one.dimension === lastResult.dimension);
}

function resultCue(state: GridState, flagsOf: FlagsToTell): Cue | null {
  const measured = lastMeasurement(state);
  const row = state.lastResult?.row;
  if (!measured || !row) return null;
  const plain = flagsOf(row, measured).length === 0 && measured.missing === null;
  const words = measured.size?.shownValue ?? `${measured.divisions ?? ""} divisions`;
  return { tone: plain ? "taken" : "flagged", words };
}

/**
 * The cue of a change, the weightiest first: something was refused, a result came, the objective changed. Null: the eye
 * may stay where it is and the ear hears nothing. `speakObjective` gives the words for an objective; a flag that is said
 * once for the sheet is no news.
 */
export function cueOf(
  before: GridState,
  after: GridState,
  speakObjective: (objectiveId: string) => string,
  flagsOf: FlagsToTell = (_, measured) => measured.flags,
): Cue | null {
  const refusedNow = after.refused.size > before.refused.size;
  // While the turret is asked the remark is a question; any other new remark says that a key did nothing.
  const saidNo = after.turret === null && after.remark !== null && after.remark !== before.remark;
  if (refusedNow || (saidNo && !after.remark.done)) return { tone: "refused", words: null };
  if (saidNo && after.remark.spoken !== undefined) return { tone: "taken", words: after.remark.spoken };
  if (saidNo) return { tone: "undone", words: null };
  if (after.lastResult !== null && after.lastResult !== before.lastResult) return resultCue(after, flagsOf);
  const objective = objectiveInUse(after);
  return objective === objectiveInUse(before)
    ? null
    : { tone: "objective", words: speakObjective(objective) };
}
