import type { SheetState } from "#core/contract/records/sign-off.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findSheet } from "../../store/repositories/sheet-repository.ts";
import { endSignOffs, signOffStateOfSheet } from "../../store/repositories/sign-off-repository.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";

function closed(db: ReadableDb, sheetId: string, state: SheetState): Refusal {
  const number = findSheet(db, sheetId)?.number ?? "";
  const falls = state === "signed" ? " The signature falls and has to be given again." : "";
  return new Refusal("sheet.closed", `Sheet ${number} is ${state}: a change asks for its reason.`, {
    field: "reason",
    hint: `Say why, and the change is made as an amendment.${falls}`,
  });
}

/** Review and signature of a sheet stand no longer, since something it says has changed. @returns true when any stood */
export function endSignature(ctx: WriteContext, sheetId: string, reason: string): boolean {
  const { db, at, by } = ctx;
  const { state } = signOffStateOfSheet(db, sheetId);
  if (endSignOffs(db, sheetId, ["reviewed", "signed"], { at, by: by.id, reason }) === 0) return false;
  ctx.audit({
    act: "sheets.signatureFell",
    subject: "sheet",
    subjectId: sheetId,
    reason,
    detail: { from: state, to: "closed" },
  });
  return true;
}

/**
 * Makes a change of a sheet: on an open one as it comes; on a closed one only with its reason, which goes into every
 * line of the trail, and a review or signature falls when anything changed.
 * @throws Refusal `sheet.closed` without a reason
 */
export function changeOfSheet<T>(
  ctx: WriteContext,
  sheetId: string,
  reason: string | undefined,
  perform: (ctx: WriteContext) => T,
): T {
  const { state } = signOffStateOfSheet(ctx.db, sheetId);
  if (state === "open") return perform(ctx);
  if (reason === undefined) throw closed(ctx.db, sheetId, state);
  let changed = false;
  const watched: WriteContext = {
    ...ctx,
    audit(event) {
      changed = true;
      ctx.audit({ ...event, reason: event.reason ?? reason });
    },
  };
  const value = perform(watched);
  if (changed) endSignature(ctx, sheetId, reason);
  return value;
}
