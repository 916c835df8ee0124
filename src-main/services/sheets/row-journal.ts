import type { RowsChanged, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { addAct, type JournalChange } from "../../store/repositories/journal-repository.ts";
import { findRow, ordinalsOfRows, stateOfRow } from "../../store/repositories/row-repository.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";
import { requireSheet } from "./sheets.ts";

/** Rows sent back whole with the answer to an act; more are paged by the window. */
const MOST_ROWS_SENT = 200;

/** What differs between a row before and after an act; `before` null: the act made it. */
export function changesOfRow(before: SpecimenRow | null, after: SpecimenRow): JournalChange[] {
  const changes: JournalChange[] = [];
  const rowId = after.id;
  const was = before ? stateOfRow(before) : null;
  const is = stateOfRow(after);
  if (JSON.stringify(was) !== JSON.stringify(is)) {
    changes.push({ rowId, dimension: "", before: was, after: is });
  }
  for (const measurement of after.measurements) {
    const { dimension } = measurement;
    const old = before?.measurements.find((one) => one.dimension === dimension) ?? null;
    if (JSON.stringify(old) !== JSON.stringify(measurement)) {
      changes.push({ rowId, dimension, before: old, after: measurement });
    }
  }
  return changes;
}

/**
 * Enters an act on rows in the journal of its sheet, so that it can be taken back. To be called, in the act's own
 * transaction, by everything that changes rows.
 * @param words what was done, to follow “Taken back: …”
 */
export function journalAct(
  ctx: WriteContext,
  sheetId: string,
  words: string,
  changes: Iterable<JournalChange>,
): void {
  addAct(ctx.db, { sheetId, words, at: ctx.at, by: ctx.by.id }, changes);
}

/** The answer to an act on several rows. */
export function rowsChanged(db: ReadableDb, sheetId: string, rowIds: readonly string[]): RowsChanged {
  const { rowCount } = requireSheet(db, sheetId);
  const places = ordinalsOfRows(db, rowIds);
  const ordinals = [...places.values()].sort((a, b) => a - b);
  return {
    count: rowIds.length,
    from: ordinals.at(0) ?? null,
    to: ordinals.at(-1) ?? null,
    rows:
      places.size > MOST_ROWS_SENT
        ? []
        : [...places.keys()].flatMap((id) => findRow(db, id) ?? []).sort((a, b) => a.ordinal - b.ordinal),
    gone: rowIds.filter((id) => !places.has(id)),
    total: rowCount,
  };
}
