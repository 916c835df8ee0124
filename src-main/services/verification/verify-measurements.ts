import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Measurement, Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import { completeReadings, isInParts, readingsOf } from "#core/measurement/readings.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { wrongHistoryKeys } from "../../store/repositories/history-keys-repository.ts";
import { pageOfRows, undoneRowIds } from "../../store/repositories/row-repository.ts";
import { listSheets } from "../../store/repositories/sheet-repository.ts";
import { requireMethod } from "../methods/methods.ts";
import { type Converted, convertReadings } from "../sheets/conversion.ts";
import { type RowFromTrail, rowsFromTrail } from "../sheets/row-from-trail.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Differences } from "./differences.ts";
import { checkRecord } from "./verify-calibrations.ts";
import { verifyRowByTrail, verifyUndoneRows } from "./verify-rows-by-trail.ts";

const PAGE = 200;
const MOST_REMEMBERED = 20_000;

type Recompute = (measurement: Measurement) => Converted;

/** Recomputes a measurement. Equal divisions under one calibration are computed once: nothing else of a reading counts. */
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
    const { calibrationId } = measurement;
    const divisions = completeReadings(readingsOf(measurement)).map(({ left, right }) => right.minus(left));
    const inParts = isInParts(definition, measurement.dimension);
    const key = [calibrationId, inParts, ...divisions.map(textOfDecimal)].join(" ");
    const known = remembered.get(key);
    if (known) return known;
    const converted = convertReadings(measurement, definition, calibrationOf(calibrationId));
    if (remembered.size >= MOST_REMEMBERED) remembered.clear();
    remembered.set(key, converted);
    return converted;
  };
}

function verifyRow(
  row: SpecimenRow,
  fromTrail: RowFromTrail,
  recompute: Recompute,
  where: string,
  differences: Differences,
): void {
  for (const measurement of row.measurements) {
    const { divisions, size } = measurement;
    differences.compare(`${where}, ${measurement.dimension}`, { divisions, size }, recompute(measurement));
  }
  verifyRowByTrail(row, fromTrail, where, differences);
}

async function verifySheet(
  db: ReadableDb,
  { sheet, undone }: { readonly sheet: Sheet; readonly undone: readonly string[] },
  recompute: Recompute,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
): Promise<number> {
  let measurements = 0;
  let rows = 0;
  let struck = 0;
  for (let from = 1; from <= sheet.rowCount; from += PAGE) {
    const span = `sheet ${sheet.number}, rows ${from} to ${Math.min(from + PAGE - 1, sheet.rowCount)}`;
    let page: SpecimenRow[] = [];
    checkRecord(span, differences, () => {
      page = pageOfRows(db, sheet.id, from, PAGE);
    });
    const rowOf = rowsFromTrail(
      db,
      page.map((row) => row.id),
    );
    rows += page.length;
    for (const wrong of wrongHistoryKeys(db, sheet.id, from, from + PAGE - 1)) {
      differences.add(`sheet ${sheet.number}, ${wrong}`, "another", "the one that follows");
    }
    struck += page.filter((row) => row.struck !== null).length;
    for (const row of page) {
      const where = `sheet ${sheet.number}, row ${row.ordinal}`;
      measurements += row.measurements.length;
      checkRecord(where, differences, () => verifyRow(row, rowOf(row.id), recompute, where, differences));
      await yieldToEvents();
    }
  }
  differences.compare(`sheet ${sheet.number}, number of rows`, sheet.rowCount, rows);
  differences.compare(`sheet ${sheet.number}, number of rows struck`, sheet.struckCount, struck);
  verifyUndoneRows(db, sheet, undone, differences);
  return measurements;
}

/**
 * Recomputes divisions and size of every measurement from its typed readings and compares the readings with what the
 * trail tells. @returns how many measurements there are
 */
export async function verifyMeasurements(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
  renew: () => void,
): Promise<number> {
  let measurements = 0;
  const byMethod = new Map<string, Recompute>();
  const undoneOf = undoneRowIds(db);
  for (const { id } of listSheets(db)) {
    renew();
    const sheet = requireSheet(db, id);
    const { methodId } = sheet;
    const recompute =
      byMethod.get(methodId) ??
      createRecompute((id) => findCalibration(db, id), requireMethod(db, methodId, "sheetId"));
    byMethod.set(methodId, recompute);
    const undone = undoneOf.get(id) ?? [];
    measurements += await verifySheet(db, { sheet, undone }, recompute, differences, yieldToEvents);
  }
  return measurements;
}
