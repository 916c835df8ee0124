import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import type { HandlersOf } from "../dispatch/handlers.ts";
import { Refusal } from "../dispatch/refusals.ts";
import { immediate, type ReadableDb } from "../store/connection.ts";
import { forgetDraft, keepDraft } from "../store/draft-repository.ts";
import { describeRow, findRow, pageOfRows, strikeRow } from "../store/row-repository.ts";
import { actOnce } from "./act.ts";
import type { Deps } from "./deps.ts";
import { enterReading } from "./enter-reading.ts";
import { requireSheet } from "./sheets.ts";

type Calls = "rows.page" | "rows.enter" | "rows.describe" | "rows.strike" | "rows.keepDraft";

function requireRow(db: ReadableDb, sheetId: string, rowId: string): SpecimenRow {
  const row = findRow(db, rowId);
  if (row && row.sheetId === sheetId) return row;
  throw new Refusal("row.unknown", "That row is not on this sheet.", {
    field: "rowId",
    hint: "A row begins with its first reading.",
  });
}

export function rowServices(deps: Deps): HandlersOf<Calls> {
  return {
    "rows.page": ({ sheetId, from, count }) => ({
      total: requireSheet(deps.db, sheetId).rowCount,
      rows: pageOfRows(deps.db, sheetId, from, count),
    }),

    "rows.enter": (input) =>
      actOnce(
        deps,
        "rows.enter",
        input,
        (acting) => enterReading(acting, input, deps.clock.today()),
        findRow,
      ),

    "rows.describe": (input) =>
      actOnce(
        deps,
        "rows.describe",
        input,
        ({ db, note }) => {
          const { label, note: words } = input;
          const row = requireRow(db, input.sheetId, input.rowId);
          if (row.label === label && row.note === words) return row;
          describeRow(db, row.id, label, words);
          note({
            subject: "specimen_row",
            subjectId: row.id,
            detail: { label: { from: row.label, to: label }, note: { from: row.note, to: words } },
          });
          return { ...row, label, note: words };
        },
        findRow,
      ),

    "rows.strike": (input) =>
      actOnce(
        deps,
        "rows.strike",
        input,
        ({ db, at, by, note }) => {
          const row = requireRow(db, input.sheetId, input.rowId);
          if (row.struck) {
            throw new Refusal("row.struck", `Row ${row.ordinal} has been struck already.`, {
              field: "rowId",
            });
          }
          const struck = { at, by: by.id, reason: input.reason };
          strikeRow(db, row, struck);
          note({
            subject: "specimen_row",
            subjectId: row.id,
            reason: input.reason,
            detail: { struck: true },
          });
          return { ...row, struck };
        },
        findRow,
      ),

    // Half-typed text is nobody's record yet: no person, no trail.
    "rows.keepDraft": (draft) =>
      immediate(deps.db, (db) => {
        requireSheet(db, draft.sheetId);
        if (draft.typed === "") forgetDraft(db, draft.sheetId, draft.rowId, draft.cell);
        else keepDraft(db, draft);
        return {};
      }),
  };
}
