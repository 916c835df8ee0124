import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Measurement, Sheet } from "#core/contract/records/sheet.ts";
import { agreementReport } from "#core/measurement/agreement-report.ts";
import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import {
  reportOfSecondReading,
  type StoredSecondReading,
  secondMeasurements,
  secondReadingsOfSheet,
} from "../../store/repositories/second-reading-repository.ts";
import { listSheets } from "../../store/repositories/sheet-repository.ts";
import { requireMethod } from "../methods/methods.ts";
import { convertReadings } from "../sheets/conversion.ts";
import type { Differences } from "./differences.ts";
import { checkRecord } from "./verify-calibrations.ts";

function calibrationOf(db: ReadableDb, { calibrationId }: Measurement): CalibrationRecord | null {
  if (calibrationId === null) return null;
  const found = findCalibration(db, calibrationId);
  if (!found) throw new Error(`its calibration ${calibrationId} is missing`);
  return found;
}

function verifyOne(
  db: ReadableDb,
  sheet: Sheet,
  reading: StoredSecondReading,
  where: string,
  differences: Differences,
): void {
  const { definition } = requireMethod(db, sheet.methodId, "sheetId");
  for (const [rowId, measurements] of secondMeasurements(db, reading.id)) {
    for (const measurement of measurements) {
      const { dimension, divisions, size } = measurement;
      const expected = convertReadings(measurement, definition, calibrationOf(db, measurement));
      differences.compare(`${where}, ${rowId}, ${dimension}`, { divisions, size }, expected);
    }
  }
  const report = reportOfSecondReading(db, reading.id);
  if (!report) return;
  // The pairs are frozen with the report: a first reading amended later does not change it.
  const sized = (value: string) => ({ size: { value } }) as Pick<Measurement, "size">;
  const pairs = report.pairs.map(({ first, second, difference: _, ...at }) => ({
    ...at,
    first: sized(first),
    second: sized(second),
  }));
  const expected = agreementReport(pairs, definition.dimensions);
  differences.compare(`${where}, agreement`, report.dimensions, expected.dimensions);
  differences.compare(`${where}, pairs`, report.pairs, expected.pairs);
}

/** Recomputes the sizes of every second reading from what was typed, and the report of every closed one. */
export async function verifySecondReadings(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
): Promise<void> {
  for (const sheet of listSheets(db)) {
    for (const reading of secondReadingsOfSheet(db, sheet.id)) {
      const where = `sheet ${sheet.number}, second reading ${reading.number}`;
      checkRecord(where, differences, () => verifyOne(db, sheet, reading, where, differences));
      await yieldToEvents();
    }
  }
}
