import type { Count, CountOfSeries } from "#core/contract/records/count.ts";
import type { CountResults } from "#core/contract/records/count-results.ts";
import type { AreaFactor } from "#core/counting/areas/counting-area.ts";
import { countResults } from "#core/counting/results/count-results.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { COUNT_RULE_OF_TODAY, type CountRule } from "#core/vocabulary/counting.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { fieldsOfCount } from "../../store/repositories/count-event-repository.ts";
import { closedCountsOf, findCount } from "../../store/repositories/count-repository.ts";
import { requireCountMethodById } from "../methods/count-methods.ts";

/** @throws Refusal `count.unknown` */
export function requireCount(db: ReadableDb, id: string): Count {
  const count = findCount(db, id);
  if (count) return count;
  throw new Refusal("count.unknown", "That count is not on this bench.", {
    field: "countId",
    hint: "Open the list of counts and choose one.",
  });
}

/** The factor frozen for a count; null when there is none. */
export function frozenFactor(db: ReadableDb, { calibrationId }: Count): AreaFactor | null {
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
export function secondsCounted({ secondsBefore, runningSince }: Count, now: string): number {
  return secondsBefore + (runningSince === null ? 0 : secondsBetween(runningSince, now));
}

/** So many counts of a series are shown. */
const MOST_OF_SERIES = 100;

/** The closed counts of the same sample by any version of the same method, oldest first. */
export function sameSample(db: ReadableDb, { sample, countMethodId }: Count): CountOfSeries[] {
  const { familyId } = requireCountMethodById(db, countMethodId, "countMethodId");
  return closedCountsOf(db, sample, familyId, MOST_OF_SERIES);
}

/** What a count says, from the stored sums of its fields; by an older rule where its frozen results name none. */
export function resultsOfCount(
  db: ReadableDb,
  count: Count,
  seconds: number,
  countRule: CountRule = COUNT_RULE_OF_TODAY,
): CountResults {
  const { definition } = requireCountMethodById(db, count.countMethodId, "countMethodId");
  return countResults({
    definition,
    categories: count.categories,
    inputs: count.inputs,
    factor: frozenFactor(db, count),
    fields: fieldsOfCount(db, count.id, count.currentField),
    lastFieldCounted: count.lastFieldCounted,
    seconds,
    trainCautions: count.trainCautions,
    countRule,
  });
}
