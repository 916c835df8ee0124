import type { Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import { entryOfEdge, readingsOf } from "#core/measurement/readings.ts";
import type { createBreather } from "../../pace/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { toldRowsGone } from "../../store/repositories/audit-trail.ts";
import { findRowEvenUndone, undoneRows } from "../../store/repositories/row-repository.ts";
import { storedReadings, type Told, toldAbout, toldOfRow } from "../sheets/told-rows.ts";
import type { Differences } from "./differences.ts";

/** Compares only what was told: lines of older programs told less. */
function compareToldFields(
  where: string,
  stored: Readonly<Record<string, unknown>>,
  told: Readonly<Record<string, unknown>>,
  differences: Differences,
): void {
  for (const [name, value] of Object.entries(told)) {
    if (value !== undefined) differences.compare(`${where}, ${name}`, stored[name], value);
  }
}

function compareRowItself(row: SpecimenRow, told: Told, where: string, differences: Differences): void {
  const { sheetId, ordinal, label, note, stage, struck } = row;
  compareToldFields(where, { sheetId, ordinal, label, note, stage, struck }, told.row, differences);
}

/** Readings, label, place and everything else of a row that its trail tells, and that it is on its sheet. */
export function verifyToldRow(row: SpecimenRow, told: Told, where: string, differences: Differences): void {
  const here = `${where}, as told by the trail`;
  differences.compare(here, storedReadings(row), told.readings);
  differences.compare(`${where}, struck`, row.struck !== null, told.struck);
  if (!told.onSheet) differences.add(here, "on its sheet", "taken away by an undo");
  compareRowItself(row, told, here, differences);
  for (const measurement of row.measurements) {
    const { dimension, entry } = measurement;
    const about = told.about[dimension] ?? {};
    compareToldFields(`${here}, ${dimension}`, { ...toldAbout(measurement) }, about, differences);
    const [reading] = readingsOf(measurement);
    const kind = reading && entryOfEdge(reading.direct === null ? "left" : "direct");
    differences.compare(`${where}, ${dimension}, kind of reading`, entry, kind);
  }
}

/** Every row that the trail tells of is there, on its sheet or taken away. */
export async function verifyRowsThere(
  db: ReadableDb,
  differences: Differences,
  breathe: ReturnType<typeof createBreather>,
  renew: () => void,
): Promise<void> {
  for (let after = 0; ; ) {
    const { gone, last } = toldRowsGone(db, after);
    if (last === null) return;
    after = last;
    for (const { id, sequence } of gone) {
      differences.add(`row ${id}`, "no record", `what trail line ${sequence} tells of it`);
    }
    await breathe();
    renew();
  }
}

/** Rows that are not on their sheet: an undo took each of them away, at that instant, and nothing put it back. */
export function verifyUndoneRows(db: ReadableDb, sheet: Sheet, differences: Differences): void {
  for (const { id, at } of undoneRows(db, sheet.id)) {
    const told = toldOfRow(db, id);
    const where = `sheet ${sheet.number}, row ${id}`;
    if (told.onSheet) differences.add(where, "taken away by an undo", "on its sheet, as told by the trail");
    else differences.compare(`${where}, taken away`, at, told.movedAt);
    const row = findRowEvenUndone(db, id);
    if (row) compareRowItself(row, told, `${where}, as told by the trail`, differences);
  }
}
