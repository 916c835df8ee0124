import type { ParsedInput } from "#core/contract/calls.ts";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { immediate, type ReadableDb } from "../../store/connection.ts";
import { forgetDraft, keepDraft } from "../../store/repositories/draft-repository.ts";
import { placedRows } from "../../store/repositories/placed-row-repository.ts";
import {
  describeRow,
  findRow,
  findRowEvenUndone,
  pageOfRows,
} from "../../store/repositories/row-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce, type WriteContext } from "../write-context/in-transaction.ts";
import { changeOfSheet } from "./closed-sheet.ts";
import { enterReading } from "./enter-reading.ts";
import { changesOfRow, journalAct } from "./row-journal.ts";
import { requireSheet } from "./sheets.ts";
import { readStage } from "./stage-position.ts";

/** @throws Refusal `row.unknown` */
export function requireRow(db: ReadableDb, sheetId: string, rowId: string): SpecimenRow {
  const row = findRow(db, rowId);
  if (row && row.sheetId === sheetId) return row;
  throw new Refusal("row.unknown", "That row is not on this sheet.", {
    field: "rowId",
    hint: "A row begins with its first reading.",
  });
}

function describeTheRow(ctx: WriteContext, input: ParsedInput<"rows.describe">): SpecimenRow {
  const { db, audit } = ctx;
  const row = requireRow(db, input.sheetId, input.rowId);
  const stage = input.stage === undefined ? row.stage : readStage("stage", input.stage);
  const after = { ...row, label: input.label, note: input.note, stage };
  const changes = changesOfRow(row, after);
  if (changes.length === 0) return row;
  describeRow(db, row.id, after);
  audit({
    act: "rows.describe",
    subject: "specimen_row",
    subjectId: row.id,
    detail: {
      label: { from: row.label, to: after.label },
      note: { from: row.note, to: after.note },
      ...(input.stage === undefined ? {} : { stage: { from: row.stage, to: stage } }),
    },
  });
  const what = row.label === after.label ? "the description" : `the label “${after.label}”`;
  journalAct(ctx, row.sheetId, `${what} of row ${row.ordinal}`, changes);
  return after;
}

export function rowServices(deps: Deps) {
  return handlers({
    "rows.page": ({ sheetId, from, count }) => ({
      total: requireSheet(deps.db, sheetId).rowCount,
      rows: pageOfRows(deps.db, sheetId, from, count),
    }),

    "rows.placed": ({ sheetId, words, count }) => {
      requireSheet(deps.db, sheetId);
      const wanted = words.trim().toLowerCase();
      const found = placedRows(deps.db, sheetId).filter(
        ({ label, ordinal, stage }) =>
          label.toLowerCase().includes(wanted) ||
          (stage.square?.toLowerCase() ?? "").startsWith(wanted) ||
          String(ordinal) === wanted,
      );
      return { total: found.length, rows: found.slice(0, count) };
    },

    "rows.enter": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) =>
          changeOfSheet(ctx, input.sheetId, input.reason, (watched) =>
            enterReading(watched, input, deps.clock.today()),
          ),
        findRowEvenUndone,
      ),

    "rows.describe": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => changeOfSheet(ctx, input.sheetId, input.reason, (watched) => describeTheRow(watched, input)),
        findRowEvenUndone,
      ),

    // Half-typed text is nobody's record yet: no person, no trail.
    "rows.keepDraft": (draft) =>
      immediate(deps.db, (db) => {
        requireSheet(db, draft.sheetId);
        if (draft.typed === "") forgetDraft(db, draft.sheetId, draft.rowId, draft.cell);
        else keepDraft(db, draft);
        return {};
      }),
  });
}
