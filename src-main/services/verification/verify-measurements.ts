import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Measurement, Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { createBreather } from "../../pace/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { pageOfRows, wrongHistoryKeys } from "../../store/repositories/row-repository.ts";
import { listSheets } from "../../store/repositories/sheet-repository.ts";
import { requireMethod } from "../methods/methods.ts";
import { type Converted, convertReadings } from "../sheets/conversion.ts";
import type { Differences } from "./differences.ts";
import { checkRecord } from "./verify-calibrations.ts";
import { verifyToldRow, verifyUndoneRows } from "./verify-told-rows.ts";

const PAGE = 200;
const MOST_REMEMBERED = 20_000;

type Recompute = (measurement: Measurement) => Converted;

/** Recomputes a measurement; equal readings under one calibration are computed once, readings being in tenths. */
export function createRecompute(
  find: (calibrationId: string) => CalibrationRecord | null,
  { definition }: Method,
): Recompute {
  const calibrations = new Map<string, CalibrationRecord>();
  const remembered = new Map<string, Converted>();
  function calibrationOf(id: string | null): CalibrationRecord | null {
    if (id === null) return null;
    const found = calibrations.get(id) ?? find(id);
    if (!found) throw new Error(`its calibration ${id} is missing`);
    calibrations.set(id, found);
    return found;
  }
  return (measurement) => {
    const { left, right, direct, repeats, calibrationId } = measurement;
    const key = JSON.stringify([calibrationId, left, right, direct, repeats]);
    const known = remembered.get(key);
    if (known) return known;
    const converted = convertReadings(measurement, definition, calibrationOf(calibrationId));
    if (remembered.size >= MOST_REMEMBERED) remembered.clear();
    remembered.set(key, converted);
    return converted;
  };
}

function verifyRow(
  db: ReadableDb,
  row: SpecimenRow,
  recompute: Recompute,
  where: string,
  differences: Differences,
): void {
  for (const measurement of row.measurements) {
    const { divisions, size } = measurement;
    differences.compare(`${where}, ${measurement.dimension}`, { divisions, size }, recompute(measurement));
  }
  verifyToldRow(db, row, where, differences);
}

async function verifySheet(
  db: ReadableDb,
  sheet: Sheet,
  differences: Differences,
  breathe: ReturnType<typeof createBreather>,
): Promise<number> {
  const method = requireMethod(db, sheet.methodId, "sheetId");
  const recompute = createRecompute((id) => findCalibration(db, id), method);
  let measurements = 0;
  let rows = 0;
  let struck = 0;
  for (let from = 1; from <= sheet.rowCount; from += PAGE) {
    const span = `sheet ${sheet.number}, rows ${from} to ${Math.min(from + PAGE - 1, sheet.rowCount)}`;
    let page: SpecimenRow[] = [];
    checkRecord(span, differences, () => {
      page = pageOfRows(db, sheet.id, from, PAGE);
    });
    rows += page.length;
    for (const wrong of wrongHistoryKeys(db, sheet.id, from, from + PAGE - 1)) {
      differences.add(`sheet ${sheet.number}, ${wrong}`, "another", "the one that follows");
    }
    struck += page.filter((row) => row.struck !== null).length;
    for (const row of page) {
      const where = `sheet ${sheet.number}, row ${row.ordinal}`;
      measurements += row.measurements.length;
      checkRecord(where, differences, () => verifyRow(db, row, recompute, where, differences));
      await breathe();
    }
  }
  differences.compare(`sheet ${sheet.number}, number of rows`, sheet.rowCount, rows);
  differences.compare(`sheet ${sheet.number}, number of rows struck`, sheet.struckCount, struck);
  verifyUndoneRows(db, sheet, differences);
  return measurements;
}

/**
 * Recomputes divisions and size of every measurement from its typed readings and compares the readings with what the
 * trail tells. @returns how many measurements there are
 */
export async function verifyMeasurements(
  db: ReadableDb,
  differences: Differences,
  breathe: ReturnType<typeof createBreather>,
): Promise<number> {
  let measurements = 0;
  for (const sheet of listSheets(db)) {
    measurements += await verifySheet(db, sheet, differences, breathe);
  }
  return measurements;
}
