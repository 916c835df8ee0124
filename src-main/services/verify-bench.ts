import type { VerifyReport } from "#core/contract/records/trail.ts";
import type { ReadableDb } from "../store/connection.ts";
import { createBreather } from "./breather.ts";
import { Differences } from "./differences.ts";
import { verifyCalibrations } from "./verify-calibrations.ts";
import { verifyMeasurements } from "./verify-measurements.ts";
import { verifyReadIns } from "./verify-read-in.ts";
import { verifyRegisters } from "./verify-registers.ts";
import { verifySecondReadings } from "./verify-second-readings.ts";
import { verifySizeHistories } from "./verify-size-histories.ts";
import { verifyTallies } from "./verify-tallies.ts";
import { verifyAttachments, verifyChecks, verifySignOffs, verifySuperseded } from "./verify-traceability.ts";
import { verifyTrail } from "./verify-trail.ts";

/**
 * Recomputes every result of a bench from its readings, follows every hash, and compares what is stored with what the
 * trail tells. Reads only; makes way for other work.
 * @param databaseFile where the bench lies: its attachments are beside it
 */
export async function verifyBench(db: ReadableDb, databaseFile: string): Promise<VerifyReport> {
  const differences = new Differences();
  const breathe = createBreather();
  const trailLines = await verifyTrail(db, differences, breathe);
  await verifyRegisters(db, differences, breathe);
  await verifyReadIns(db, differences, breathe);
  const calibrations = await verifyCalibrations(db, differences, breathe);
  const measurements = await verifyMeasurements(db, differences, breathe);
  await verifySecondReadings(db, differences, breathe);
  await verifySizeHistories(db, differences, breathe);
  const tallies = await verifyTallies(db, differences, breathe);
  const attachments = await verifyAttachments(db, databaseFile, differences, breathe);
  const checks = await verifyChecks(db, differences, breathe);
  const signOffs = await verifySignOffs(db, differences, breathe);
  const supersededResults = await verifySuperseded(db, differences, breathe);
  return {
    trailLines,
    measurements,
    calibrations,
    tallies,
    attachments,
    checks,
    signOffs,
    supersededResults,
    differences: differences.listed,
    more: differences.more,
  };
}
