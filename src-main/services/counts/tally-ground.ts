import type { Tally } from "#core/contract/records/tally.ts";
import type { TallyResults } from "#core/contract/records/tally-results.ts";
import type { AreaFactor } from "#core/counting/areas/counting-area.ts";
import { tallyResults } from "#core/counting/results/tally-results.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { COUNT_RULE_OF_TODAY, type CountRule } from "#core/vocabulary/counting.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { fieldsOfTally } from "../../store/repositories/tally-event-repository.ts";
import { findTally } from "../../store/repositories/tally-repository.ts";
import { requireMethodOfCount } from "../methods/count-methods.ts";

/** @throws Refusal `tally.unknown` */
export function requireTally(db: ReadableDb, id: string): Tally {
  const tally = findTally(db, id);
  if (tally) return tally;
  throw new Refusal("tally.unknown", "That count is not on this bench.", {
    field: "tallyId",
    hint: "Open the list of counts and choose one.",
  });
}

/** The factor frozen for a count; null when there is none. */
export function frozenFactor(db: ReadableDb, { calibrationId }: Tally): AreaFactor | null {
  if (calibrationId === null) return null;
  const result = findCalibration(db, calibrationId)?.result;
  if (!result) throw new Error(`the calibration ${calibrationId} of a count is missing`);
  return { factor: decimal(result.factor), standardUncertainty: decimal(result.standardUncertainty) };
}

/** Whole seconds from one instant to another, none when they are in the wrong order. */
export function secondsBetween(from: string, to: string): number {
  return Math.max(0, Math.floor((Date.parse(to) - Date.parse(from)) / 1000));
}

/** Seconds counted up to an instant. */
export function secondsCounted({ secondsBefore, runningSince }: Tally, now: string): number {
  return secondsBefore + (runningSince === null ? 0 : secondsBetween(runningSince, now));
}

/** What a count says, from the stored sums of its fields; by an older rule where its frozen results name none. */
export function resultsOfTally(
  db: ReadableDb,
  tally: Tally,
  seconds: number,
  countRule: CountRule = COUNT_RULE_OF_TODAY,
): TallyResults {
  const { definition } = requireMethodOfCount(db, tally.countMethodId, "countMethodId");
  return tallyResults({
    definition,
    categories: tally.categories,
    inputs: tally.inputs,
    factor: frozenFactor(db, tally),
    fields: fieldsOfTally(db, tally.id, tally.currentField),
    lastFieldCounted: tally.lastFieldCounted,
    seconds,
    trainCautions: tally.trainCautions,
    countRule,
  });
}
