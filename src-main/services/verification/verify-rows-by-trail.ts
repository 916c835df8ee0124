import type { Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import { entryOfEdge, readingsOf } from "#core/measurement/readings.ts";
import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { rowsOnlyInTrail } from "../../store/repositories/audit-trail.ts";
import { wrongKeysOfUndone } from "../../store/repositories/history-keys-repository.ts";
import { findRowEvenUndone, undoneRows } from "../../store/repositories/row-repository.ts";
import { aboutForTrail, type RowFromTrail, rowFromTrail, storedReadings } from "../sheets/row-from-trail.ts";
import type { Differences } from "./differences.ts";

/** Compares only what was told: lines of older programs told less. */
function compareFieldsWithTrail(
  where: string,
  stored: Readonly<Record<string, unknown>>,
  fromTrail: Readonly<Record<string, unknown>>,
  differences: Differences,
): void {
  for (const [name, value] of Object.entries(fromTrail)) {
    if (value !== undefined) differences.compare(`${where}, ${name}`, stored[name], value);
  }
}

function compareRowItself(
  row: SpecimenRow,
  fromTrail: RowFromTrail,
  where: string,
  differences: Differences,
): void {
  const { sheetId, ordinal, label, note, stage, struck, elsewhere = null } = row;
  const { elsewhere: told = null, ...fromLines } = fromTrail.row;
  compareFieldsWithTrail(where, { sheetId, ordinal, label, note, stage, struck }, fromLines, differences);
  // Every line that put such sizes on the bench tells of them: what none tells of was never taken in.
  differences.compare(`${where}, converted elsewhere`, elsewhere, told);
}

/** Readings, label, place and everything else of a row that its trail tells, and that it is on its sheet. */
export function verifyRowByTrail(
  row: SpecimenRow,
  fromTrail: RowFromTrail,
  where: string,
  differences: Differences,
): void {
  const here = `${where}, as told by the trail`;
  differences.compare(here, storedReadings(row), fromTrail.readings);
  differences.compare(`${where}, struck`, row.struck !== null, fromTrail.struck);
  if (!fromTrail.onSheet) differences.add(here, "on its sheet", "taken away by an undo");
  compareRowItself(row, fromTrail, here, differences);
  for (const measurement of row.measurements) {
    const { dimension, entry } = measurement;
    const about = fromTrail.about[dimension] ?? {};
    compareFieldsWithTrail(`${here}, ${dimension}`, { ...aboutForTrail(measurement) }, about, differences);
    const [reading] = readingsOf(measurement);
    const kind = reading && entryOfEdge(reading.direct === null ? "left" : "direct");
    differences.compare(`${where}, ${dimension}, kind of reading`, entry, kind);
  }
}

/** Every row that the trail tells of is there, on its sheet or taken away. */
export async function verifyRowsThere(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
  renew: () => void,
): Promise<void> {
  for (let after = 0; ; ) {
    const { gone, last } = rowsOnlyInTrail(db, after);
    if (last === null) return;
    after = last;
    for (const { id, sequence } of gone) {
      differences.add(`row ${id}`, "no record", `what trail line ${sequence} tells of it`);
    }
    await yieldToEvents();
    renew();
  }
}

/** Rows of a sheet that are not on it: an undo took each of them away, at that instant, and nothing put it back. */
export function verifyUndoneRows(
  db: ReadableDb,
  sheet: Sheet,
  ids: readonly string[],
  differences: Differences,
): void {
  for (const wrong of wrongKeysOfUndone(db, ids)) {
    differences.add(`sheet ${sheet.number}, ${wrong}`, "another", "the one that follows");
  }
  // Some of them may be back by now: what was read before is what to look at, not what is.
  for (const { id, at } of undoneRows(db, ids)) {
    const fromTrail = rowFromTrail(db, id);
    const where = `sheet ${sheet.number}, row ${id}`;
    if (fromTrail.onSheet)
      differences.add(where, "taken away by an undo", "on its sheet, as told by the trail");
    else differences.compare(`${where}, taken away`, at, fromTrail.movedAt);
    const row = findRowEvenUndone(db, id);
    if (row) compareRowItself(row, fromTrail, `${where}, as told by the trail`, differences);
  }
}
