import type { ParsedInput } from "#core/contract/calls.ts";
import type { RowsChanged, SpecimenRow } from "#core/contract/records/sheet.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { findAct, lastDone, rowsOfAct } from "../../store/repositories/journal-repository.ts";
import { findRowEvenUndone, strikeRow } from "../../store/repositories/row-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import {
  inTransactionOnce,
  inTransactionOnceAbout,
  type WriteContext,
} from "../write-context/in-transaction.ts";
import { rowsNamed } from "./change-objective.ts";
import { changeOfSheet } from "./closed-sheet.ts";
import { changesOfRow, journalAct, rowsChanged } from "./row-journal.ts";
import { requireRow } from "./rows.ts";
import { requireSheet } from "./sheets.ts";

/** @returns the row as it stands then */
function strike({ db, at, by, audit }: WriteContext, row: SpecimenRow, reason: string): SpecimenRow {
  const struck = { at, by: by.id, reason };
  strikeRow(db, row, struck);
  audit({ act: "rows.strike", subject: "specimen_row", subjectId: row.id, reason, detail: { struck: true } });
  return { ...row, struck };
}

function strikeOne(ctx: WriteContext, input: ParsedInput<"rows.strike">): SpecimenRow {
  const row = requireRow(ctx.db, input.sheetId, input.rowId);
  if (row.struck) {
    throw new Refusal("row.struck", `Row ${row.ordinal} has been struck already.`, { field: "rowId" });
  }
  const after = strike(ctx, row, input.reason);
  journalAct(ctx, row.sheetId, `striking row ${row.ordinal}`, changesOfRow(row, after));
  return after;
}

function strikeMany(ctx: WriteContext, input: ParsedInput<"rows.strikeMany">): RowsChanged {
  const sheet = requireSheet(ctx.db, input.sheetId);
  const rows = rowsNamed(ctx.db, sheet, input.rows);
  if (rows.length === 0) {
    throw new Refusal("row.struck", "Every one of these rows has been struck already.", { field: "rows" });
  }
  const changes = rows.flatMap((row) => changesOfRow(row, strike(ctx, row, input.reason)));
  journalAct(ctx, sheet.id, `striking ${countedNoun(rows.length, "row")}`, changes);
  return rowsChanged(
    ctx.db,
    sheet.id,
    rows.map(({ id }) => id),
  );
}

/** Rows that count no more: they stay on the sheet, marked, with the reason. */
export function strikeRowServices(deps: Deps) {
  return handlers({
    "rows.strike": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => changeOfSheet(ctx, input.sheetId, input.reason, (watched) => strikeOne(watched, input)),
        findRowEvenUndone,
      ),

    "rows.strikeMany": (input, call) =>
      inTransactionOnceAbout<RowsChanged>(deps, call, input, {
        perform: (ctx) =>
          changeOfSheet(ctx, input.sheetId, input.reason, (watched) => strikeMany(watched, input)),
        subjectOf: () => String(lastDone(deps.db, input.sheetId)?.id ?? 0),
        find: (db, actId) => {
          const act = findAct(db, Number(actId));
          return rowsChanged(db, input.sheetId, act ? rowsOfAct(db, act.id) : []);
        },
      }),
  });
}
