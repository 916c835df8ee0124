import type { Undone } from "#core/contract/calls/sheets.ts";
import type { ParsedInput } from "#core/contract/calls.ts";
import { Measurement, type SpecimenRow } from "#core/contract/records/sheet.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  changesOfAct,
  digestOfRecord,
  findAct,
  firstUndone,
  type JournalAct,
  type KeptChange,
  keepAfter,
  lastDone,
  rowsOfAct,
  setActState,
} from "../../store/repositories/journal-repository.ts";
import {
  findRow,
  hideRow,
  putMeasurement,
  type RowState,
  restoreRow,
  stateOfRow,
  takeMeasurementAway,
} from "../../store/repositories/row-repository.ts";
import { archiveResult } from "../../store/repositories/superseded-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout, type WriteContext } from "../write-context/in-transaction.ts";
import { changeOfSheet } from "./closed-sheet.ts";
import { stateForTrail } from "./row-from-trail.ts";
import { rowsChanged } from "./row-journal.ts";
import { requireSheet } from "./sheets.ts";

type Direction = "rows.undo" | "rows.redo";

/** The record a change is about, as it stands. */
function valueNow(row: SpecimenRow | null, { dimension }: KeptChange): unknown {
  if (row === null) return null;
  if (dimension === "") return stateOfRow(row);
  return row.measurements.find((one) => one.dimension === dimension) ?? null;
}

function requireUntouched(stands: unknown, expected: string, row: SpecimenRow | null, act: JournalAct): void {
  if (digestOfRecord(stands) === expected) return;
  const which = row ? `row ${row.ordinal}` : "a row of it";
  throw new Refusal(
    "undo.blocked",
    `“${act.words}” cannot be taken back or done again: ${which} has been changed since by another act.`,
    { hint: "Correct the row itself; the older states stand in the trail." },
  );
}

function putRow(ctx: WriteContext, rowId: string, row: SpecimenRow | null, to: RowState | null): void {
  if (to) restoreRow(ctx.db, rowId, to);
  else if (row) hideRow(ctx.db, row, ctx.at);
}

function putDimension(
  ctx: WriteContext,
  rowId: string,
  stands: unknown,
  to: unknown,
  { dimension }: KeptChange,
  why: { readonly act: string; readonly reason: string },
): void {
  if (stands !== null) {
    archiveResult(ctx.db, rowId, Measurement.parse(stands), { at: ctx.at, by: ctx.by.id, ...why });
  }
  if (to === null) takeMeasurementAway(ctx.db, rowId, dimension);
  else putMeasurement(ctx.db, rowId, Measurement.parse(to));
}

function changesByRow(db: ReadableDb, act: JournalAct): Map<string, KeptChange[]> {
  const byRow = new Map<string, KeptChange[]>();
  for (const change of changesOfAct(db, act.id)) {
    const list = byRow.get(change.rowId);
    if (list) list.push(change);
    else byRow.set(change.rowId, [change]);
  }
  return byRow;
}

function applyChange(
  ctx: WriteContext,
  act: JournalAct,
  direction: Direction,
  row: SpecimenRow | null,
  change: KeptChange,
): void {
  const { rowId, dimension } = change;
  const undoing = direction === "rows.undo";
  const stands = valueNow(row, change);
  requireUntouched(stands, undoing ? change.afterDigest : digestOfRecord(change.before), row, act);
  if (undoing) keepAfter(ctx.db, act.id, { rowId, dimension, after: stands });
  const to = undoing ? change.before : change.after;
  if (dimension === "") putRow(ctx, rowId, row, to as RowState | null);
  else putDimension(ctx, rowId, stands, to, change, { act: direction, reason: act.words });
}

/** Restores what one act found, or what it left, in every record it touched. */
function apply(ctx: WriteContext, act: JournalAct, direction: Direction): void {
  const { db } = ctx;
  for (const [rowId, changes] of changesByRow(db, act)) {
    const row = findRow(db, rowId);
    for (const change of changes) applyChange(ctx, act, direction, row, change);
    const dimensions = changes.map((one) => one.dimension).filter((one) => one !== "");
    ctx.audit({
      act: direction,
      subject: "specimen_row",
      subjectId: rowId,
      detail: { words: act.words, ...stateForTrail(findRow(db, rowId), dimensions) },
    });
  }
  setActState(db, act.id, direction === "rows.undo" ? "undone" : "done");
}

function answer(db: ReadableDb, act: JournalAct): Undone {
  return {
    words: act.words,
    changed: rowsChanged(db, act.sheetId, rowsOfAct(db, act.id)),
    undo: lastDone(db, act.sheetId)?.words ?? null,
    redo: firstUndone(db, act.sheetId)?.words ?? null,
  };
}

function requireNext(db: ReadableDb, sheetId: string, direction: Direction): JournalAct {
  requireSheet(db, sheetId);
  const undoing = direction === "rows.undo";
  const next = undoing ? lastDone(db, sheetId) : firstUndone(db, sheetId);
  if (next) return next;
  throw undoing
    ? new Refusal("undo.nothing", "There is nothing to take back on this sheet.", {
        hint: "Only what was entered on this sheet can be taken back, newest first.",
      })
    : new Refusal("redo.nothing", "There is nothing to do again on this sheet.", {
        hint: "Once something new is entered, what was taken back before stays taken back.",
      });
}

function handler(deps: Deps, direction: Direction) {
  return (input: ParsedInput<Direction>): Undone => {
    let done: JournalAct | null = null;
    return inTransactionOnceAbout<Undone>(deps, direction, input, {
      perform: (ctx) => {
        const next = requireNext(ctx.db, input.sheetId, direction);
        done = next;
        changeOfSheet(ctx, input.sheetId, input.reason, (watched) => apply(watched, next, direction));
        return answer(ctx.db, next);
      },
      subjectOf: () => String(done?.id),
      find: (db, id) => {
        const act = findAct(db, Number(id));
        return act && answer(db, act);
      },
    });
  };
}

/** Unlimited undo and redo of acts on the rows of a sheet. Each is an act of its own; nothing is erased. */
export function undoServices(deps: Deps) {
  return handlers({
    "rows.journal": ({ sheetId }) => {
      requireSheet(deps.db, sheetId);
      return {
        undo: lastDone(deps.db, sheetId)?.words ?? null,
        redo: firstUndone(deps.db, sheetId)?.words ?? null,
      };
    },
    "rows.undo": handler(deps, "rows.undo"),
    "rows.redo": handler(deps, "rows.redo"),
  });
}
