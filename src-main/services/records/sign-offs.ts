import type { ParsedInput } from "#core/contract/calls.ts";
import type { Person } from "#core/contract/records/person.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import type { SheetSignOffs, SignOff } from "#core/contract/records/sign-off.ts";
import type { DetailOf } from "#core/contract/trail-events/trail-event.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb, WritableDb } from "../../store/connection.ts";
import { appendTrail } from "../../store/repositories/audit-trail.ts";
import { laboratorySettings } from "../../store/repositories/laboratory-repository.ts";
import { openReset } from "../../store/repositories/pin-reset-repository.ts";
import { sheetDataSha256 } from "../../store/repositories/sheet-digest.ts";
import { findSheet } from "../../store/repositories/sheet-repository.ts";
import {
  endSignOffs,
  insertSignOff,
  readersOfSheet,
  signOffStateOfSheet,
  signOffStatesOfSheets,
  signOffsOfSheet,
} from "../../store/repositories/sign-off-repository.ts";
import { requirePin } from "../people/require-pin.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Deps } from "../write-context/deps.ts";
import {
  inTransactionOnceAbout,
  oncePerRequest,
  requirePerson,
  type WriteContext,
} from "../write-context/in-transaction.ts";

const FIELD = { field: "sheetId" };

export function signOffsAsTheyStand(db: ReadableDb, sheetId: string): SheetSignOffs {
  return { sheetId, ...signOffStateOfSheet(db, sheetId), signOffs: signOffsOfSheet(db, sheetId) };
}

function find(db: ReadableDb, sheetId: string): SheetSignOffs | null {
  return findSheet(db, sheetId) ? signOffsAsTheyStand(db, sheetId) : null;
}

const subjectOf = ({ sheetId }: SheetSignOffs): string => sheetId;

function notClosed(sheet: Sheet): Refusal {
  return new Refusal("sheet.not-closed", `Sheet ${sheet.number} is still open for measuring.`, {
    ...FIELD,
    hint: "Close the sheet first.",
  });
}

interface Given {
  readonly kind: SignOff["kind"];
  readonly at: string;
  readonly by: Person;
  readonly words: string;
  /** Proven by the PIN: then a reset of it that waits to be confirmed marks the sign-off. */
  readonly withPin?: boolean;
}

function markOf(db: ReadableDb, { by, withPin }: Given): Pick<SignOff, "pinReset"> {
  const open = withPin ? openReset(db, by.id) : null;
  return open ? { pinReset: { at: open.at, voucher: open.voucher } } : {};
}

/** Adds a sign-off over the data as they stand. @returns what the trail is told of it */
function give(deps: Deps, db: WritableDb, sheetId: string, given: Given): DetailOf<"sheets.sign"> {
  const { kind, at, by, words } = given;
  const dataSha256 = sheetDataSha256(db, sheetId);
  const mark = markOf(db, given);
  insertSignOff(db, { id: deps.ids.next(), sheetId, kind, at, by: by.id, words, dataSha256, ...mark });
  return { kind, words, dataSha256, ...mark };
}

function close(
  deps: Deps,
  { db, at, by, audit }: WriteContext,
  input: ParsedInput<"sheets.close">,
): SheetSignOffs {
  const sheet = requireSheet(db, input.sheetId);
  const { state } = signOffStateOfSheet(db, sheet.id);
  if (state !== "open") {
    throw new Refusal("sheet.closed", `Sheet ${sheet.number} is ${state} already.`, FIELD);
  }
  if (sheet.rowCount === 0) {
    throw new Refusal("sheet.empty", `Sheet ${sheet.number} has no rows yet.`, FIELD);
  }
  const detail = give(deps, db, sheet.id, { kind: "closed", at, by, words: input.words });
  audit({ act: "sheets.close", subject: "sheet", subjectId: sheet.id, detail });
  return signOffsAsTheyStand(db, sheet.id);
}

function reopen({ db, at, by, audit }: WriteContext, input: ParsedInput<"sheets.reopen">): SheetSignOffs {
  const sheet = requireSheet(db, input.sheetId);
  const { state } = signOffStateOfSheet(db, sheet.id);
  if (state === "open") throw notClosed(sheet);
  const { reason } = input;
  endSignOffs(db, sheet.id, ["closed", "reviewed", "signed"], { at, by: by.id, reason });
  audit({
    act: "sheets.reopen",
    subject: "sheet",
    subjectId: sheet.id,
    reason,
    detail: { from: state, to: "open" },
  });
  return signOffsAsTheyStand(db, sheet.id);
}

function requireOtherPerson(db: ReadableDb, sheet: Sheet, by: Person): void {
  const closedBy = signOffsOfSheet(db, sheet.id).find((one) => one.kind === "closed" && !one.ended)?.by;
  if (by.id !== closedBy && !readersOfSheet(db, sheet.id).includes(by.id)) return;
  const what = by.id === closedBy ? "closed" : "measured on";
  throw new Refusal("review.own-work", `${by.name} ${what} sheet ${sheet.number}.`, {
    ...FIELD,
    hint: "Another person reviews it: choose who is at the bench, then review.",
  });
}

function review(
  deps: Deps,
  { db, at, by, audit }: WriteContext,
  input: Omit<ParsedInput<"sheets.review">, "pin">,
): SheetSignOffs {
  const sheet = requireSheet(db, input.sheetId);
  const { state } = signOffStateOfSheet(db, sheet.id);
  if (state === "open") throw notClosed(sheet);
  if (state !== "closed") {
    throw new Refusal("sheet.reviewed", `Sheet ${sheet.number} is ${state} already.`, FIELD);
  }
  requireOtherPerson(db, sheet, by);
  const withPin = laboratorySettings(db).reviewWithPin;
  const detail = give(deps, db, sheet.id, { kind: "reviewed", at, by, words: input.words, withPin });
  audit({ act: "sheets.review", subject: "sheet", subjectId: sheet.id, detail });
  return signOffsAsTheyStand(db, sheet.id);
}

function requireReadyToSign(db: ReadableDb, sheet: Sheet): void {
  const { state } = signOffStateOfSheet(db, sheet.id);
  if (state === "open") throw notClosed(sheet);
  if (state === "signed") {
    throw new Refusal("sheet.signed", `Sheet ${sheet.number} is signed already.`, FIELD);
  }
  if (state === "closed" && laboratorySettings(db).reviewBeforeSigning) {
    throw new Refusal("sheet.not-reviewed", `Sheet ${sheet.number} has not been reviewed.`, {
      ...FIELD,
      hint: "Another person reviews it first; a laboratory of one turns that off under Registers, Laboratory.",
    });
  }
}

export function signOffServices(deps: Deps) {
  return handlers({
    "sheets.signOffs": ({ sheetId }) => signOffsAsTheyStand(deps.db, requireSheet(deps.db, sheetId).id),

    "sheets.states": () => signOffStatesOfSheets(deps.db),

    "sheets.close": (input, call) =>
      inTransactionOnceAbout(deps, call, input, {
        perform: (ctx) => close(deps, ctx, input),
        subjectOf,
        find,
      }),

    "sheets.reopen": (input, call) =>
      inTransactionOnceAbout(deps, call, input, {
        perform: (ctx) => reopen(ctx, input),
        subjectOf,
        find,
      }),

    "sheets.review": async ({ pin, ...input }) => {
      const proven = laboratorySettings(deps.db).reviewWithPin
        ? await requirePin(deps, requirePerson(deps.db).id, pin ?? "", "pin")
        : null;
      return inTransactionOnceAbout(deps, "sheets.review", input, {
        perform(ctx) {
          // Whoever typed the PIN may have been relieved while it was compared.
          const { by } = ctx;
          if (laboratorySettings(ctx.db).reviewWithPin && by.id !== proven?.id) {
            throw new Refusal("pin.wrong", `${by.name} has not typed the PIN.`, { field: "pin" });
          }
          return review(deps, ctx, input);
        },
        subjectOf,
        find,
      });
    },

    // The PIN stays out of the remembered request: a digest of it could be searched for.
    "sheets.sign": async ({ pin, ...input }) => {
      requireSheet(deps.db, input.sheetId);
      const signer = await requirePin(deps, input.personId, pin, "pin");
      return oncePerRequest(deps, "sheets.sign", input, {
        perform(db) {
          const sheet = requireSheet(db, input.sheetId);
          requireReadyToSign(db, sheet);
          const at = deps.clock.now();
          const detail = give(deps, db, sheet.id, {
            kind: "signed",
            at,
            by: signer,
            words: input.words,
            withPin: true,
          });
          const subjectId = sheet.id;
          appendTrail(
            db,
            { act: "sheets.sign", subject: "sheet", subjectId, detail },
            { at, personId: signer.id },
          );
          return signOffsAsTheyStand(db, sheet.id);
        },
        subjectOf,
        find,
      });
    },
  });
}
