import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { CalibrationSwap, Reevaluation } from "#core/contract/records/reevaluation.ts";
import type { SizeRecord } from "#core/contract/records/sheet.ts";
import { isInParts } from "#core/measurement/readings.ts";
import { sizeBin } from "#core/measurement/size-history.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { ReadableDb, WritableDb } from "../../store/connection.ts";
import { appendTrail } from "../../store/repositories/audit-trail.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { forgetUndone } from "../../store/repositories/journal-repository.ts";
import {
  keepSlice,
  replaceSize,
  SLICE_ACT,
  type SliceRow,
  type SliceScope,
  sliceRows,
  sliceSha256,
} from "../../store/repositories/reevaluated-results.ts";
import {
  cursorOf,
  findReevaluation,
  insertSlice,
  keepProgress,
  nextSliceOrdinal,
  type ReevaluationCursor,
  setReevaluationState,
} from "../../store/repositories/reevaluation-repository.ts";
import { requireMethod } from "../methods/methods.ts";
import { endSignature } from "../sheets/closed-sheet.ts";
import { convertReadings } from "../sheets/conversion.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";

/** Sizes remembered: readings are in tenths of a division, so most come again. */
const MOST_REMEMBERED = 50_000;

interface NewSize {
  readonly size: SizeRecord;
  readonly bin: number | null;
}

/** Converts readings with another calibration; equal readings of one method are converted once. */
export class SizeConverter {
  readonly #db: ReadableDb;
  readonly #methods = new Map<string, Method>();
  readonly #calibrations = new Map<string, CalibrationRecord>();
  readonly #sizes = new Map<string, NewSize>();

  constructor(db: ReadableDb) {
    this.#db = db;
  }

  #method(id: string): Method {
    const known = this.#methods.get(id) ?? requireMethod(this.#db, id, "sheetId");
    this.#methods.set(id, known);
    return known;
  }

  #calibration(id: string): CalibrationRecord {
    const known = this.#calibrations.get(id) ?? findCalibration(this.#db, id);
    if (!known?.result) throw new Error(`calibration ${id} of a re-evaluation has no result`);
    this.#calibrations.set(id, known);
    return known;
  }

  sizeOf(row: SliceRow, calibrationId: string): NewSize {
    // Of a single reading only the divisions count, not where on the scale it was taken.
    const readings =
      row.repeats === "[]" ? row.divisions : `${row.left}|${row.right}|${row.direct}|${row.repeats}`;
    const { definition } = this.#method(row.methodId);
    const { dimension, entry, left, right, direct } = row;
    const key = `${calibrationId}|${row.methodId}|${isInParts(definition, dimension)}|${readings}`;
    const known = this.#sizes.get(key);
    if (known) return known;
    const taken = { dimension, entry, left, right, direct, repeats: JSON.parse(row.repeats) };
    const { size } = convertReadings(taken, definition, this.#calibration(calibrationId));
    if (!size) throw new Error(`the readings of row ${row.rowId}, ${row.dimension} give no size any more`);
    const found = { size, bin: sizeBin(decimal(size.value)) };
    if (this.#sizes.size >= MOST_REMEMBERED) this.#sizes.clear();
    this.#sizes.set(key, found);
    return found;
  }
}

export interface SliceWork {
  readonly reevaluation: Reevaluation;
  readonly sizes: SizeConverter;
  readonly window: Pick<SliceScope, "notBefore" | "before">;
  /** Who carries it out, and when. */
  readonly at: string;
  readonly personId: string;
  /** Sheets already told that they were re-evaluated, in this run. */
  readonly reported: Set<string>;
}

function contextOf(db: WritableDb, { at, personId, reevaluation }: SliceWork): WriteContext {
  return {
    db,
    at,
    by: { id: personId } as WriteContext["by"],
    audit: (event) =>
      appendTrail(db, { ...event, reason: event.reason ?? reevaluation.reason }, { at, personId }),
  };
}

/**
 * Signatures fall and the sheets' own histories tell of it, once for each sheet. A re-evaluation is no act of the sheet's
 * journal: undo refuses what it changed, and nothing that was taken back before it comes again with the factor it replaces.
 * @returns how many signatures fell
 */
function tellSheets(
  db: WritableDb,
  work: SliceWork,
  rows: readonly SliceRow[],
  swap: CalibrationSwap,
): number {
  const ctx = contextOf(db, work);
  let fell = 0;
  for (const sheetId of new Set(rows.map((row) => row.sheetId))) {
    if (endSignature(ctx, sheetId, work.reevaluation.reason)) fell += 1;
    const key = `${sheetId} ${swap.from}`;
    if (work.reported.has(key)) continue;
    work.reported.add(key);
    forgetUndone(db, sheetId);
    const detail = { reevaluationId: work.reevaluation.id, ...swap };
    ctx.audit({ act: "sheets.reevaluated", subject: "sheet", subjectId: sheetId, detail });
  }
  return fell;
}

function convertSlice(
  db: WritableDb,
  work: SliceWork,
  swap: CalibrationSwap,
  rows: readonly SliceRow[],
  cursor: ReevaluationCursor,
): void {
  const { reevaluation, sizes, at, personId } = work;
  const last = rows.at(-1) ?? cursor;
  const scope = scopeOf(work, swap);
  const range = keepSlice(db, scope, cursor, last, { at, personId, reason: reevaluation.reason });
  if (range.last - range.first + 1 !== rows.length)
    throw new Error("a slice kept other results than it read");
  for (const row of rows) {
    const { size, bin } = sizes.sizeOf(row, swap.to);
    replaceSize(db, row, swap.to, size, bin);
  }
  const ordinal = nextSliceOrdinal(db, reevaluation.id);
  const sha256 = sliceSha256(db, range);
  const auditSequence = appendTrail(
    db,
    {
      act: SLICE_ACT,
      subject: "reevaluation",
      subjectId: reevaluation.id,
      reason: reevaluation.reason,
      detail: { slice: ordinal, ...swap, results: rows.length, superseded: range, sha256 },
    },
    { at, personId },
  );
  insertSlice(db, {
    reevaluationId: reevaluation.id,
    ordinal,
    auditSequence,
    firstSupersededId: range.first,
    lastSupersededId: range.last,
    fromCalibrationId: swap.from,
    toCalibrationId: swap.to,
    sha256,
  });
}

function scopeOf({ reevaluation, window }: SliceWork, swap: CalibrationSwap): SliceScope {
  const sheetIds = reevaluation.sheetIds === null ? null : JSON.stringify(reevaluation.sheetIds);
  return { calibrationId: swap.from, ...window, sheetIds };
}

/**
 * Converts the next results, at most `limit`, within one transaction: keeps the old ones, writes the new ones, and tells
 * the trail in one line with a hash over everything kept, so that a million rows do not need a million lines.
 * @returns true when nothing is left to do
 */
export function reevaluateSlice(db: WritableDb, work: SliceWork, limit: number): boolean {
  const { reevaluation } = work;
  const cursor = cursorOf(db, reevaluation.id);
  const swap = reevaluation.swaps[cursor.swap];
  if (!swap) {
    const { done = 0, reopenedSheets = 0 } = findReevaluation(db, reevaluation.id) ?? {};
    setReevaluationState(db, reevaluation.id, "finished", { finishedAt: work.at });
    contextOf(db, work).audit({
      act: "reevaluations.finish",
      subject: "reevaluation",
      subjectId: reevaluation.id,
      detail: { swaps: reevaluation.swaps, done, reopenedSheets },
    });
    return true;
  }
  const rows = sliceRows(db, scopeOf(work, swap), cursor, limit);
  let reopened = 0;
  if (rows.length > 0) {
    convertSlice(db, work, swap, rows, cursor);
    reopened = tellSheets(db, work, rows, swap);
  }
  const last = rows.at(-1);
  const next =
    rows.length < limit || !last
      ? { swap: cursor.swap + 1, rowId: "", dimension: "" }
      : { swap: cursor.swap, rowId: last.rowId, dimension: last.dimension };
  keepProgress(db, reevaluation.id, { cursor: next, done: rows.length, reopened });
  return false;
}
