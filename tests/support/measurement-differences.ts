import Database from "better-sqlite3";
import type { VerifyReport } from "#core/contract/records/trail.ts";
import { createYielder } from "#main/long-work/yield-to-events.ts";
import { Differences } from "#main/services/verification/differences.ts";
import { verifyMeasurements } from "#main/services/verification/verify-measurements.ts";
import { asReadableDb } from "#main/store/connection.ts";

/** What differs between the measurements of a bench file and their recomputation and trail; nothing: all agree. */
export async function measurementDifferences(databaseFile: string): Promise<VerifyReport["differences"]> {
  const database = new Database(databaseFile, { readonly: true });
  try {
    const differences = new Differences();
    await verifyMeasurements(asReadableDb(database), differences, createYielder(), () => undefined);
    return differences.listed;
  } finally {
    database.close();
  }
}
