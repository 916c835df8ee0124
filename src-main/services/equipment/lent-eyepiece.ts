import type { NewEquipmentEvent } from "#core/contract/records/equipment-event.ts";
import { isLoan, lentWords, loanOf } from "#core/optics/lent-eyepiece.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { NOW_AND_ALWAYS } from "../../store/repositories/check-repository.ts";
import { loansOfEyepiece } from "../../store/repositories/event-repository.ts";

/** Since when an eyepiece is lent and to whom, as it follows “The eyepiece”; null while it is there. */
export function whyLent(
  db: ReadableDb,
  eyepieceId: string,
  day: string,
  until = NOW_AND_ALWAYS,
): string | null {
  const loan = loanOf(loansOfEyepiece(db, eyepieceId, { day, until }), eyepieceId);
  return loan && lentWords(loan);
}

/**
 * Nothing new is read with an eyepiece that is somewhere else.
 * @throws Refusal `item.out-of-service`
 */
export function requireNotLent(db: ReadableDb, eyepieceId: string, today: string, field: string): void {
  const why = whyLent(db, eyepieceId, today);
  if (why === null) return;
  throw new Refusal("item.out-of-service", `That eyepiece ${why}`, {
    field,
    hint: "Record under Registers that it was brought back, or choose another eyepiece.",
  });
}

/**
 * Lent and brought back take turns, and their days do not run backwards.
 * @throws InputError `event.subject`, `event.kind`, `event.happenedOn`, `event.unchanged`
 */
export function requireLoanInTurn(db: ReadableDb, event: NewEquipmentEvent): void {
  const { kind, subject, happenedOn, unchanged } = event;
  if (unchanged && kind !== "brought back") {
    throw new InputError("event.unchanged", "is stated of an eyepiece that is brought back");
  }
  if (!isLoan(kind)) return;
  if (subject.kind !== "eyepiece") throw new InputError("event.subject", "must be an eyepiece");
  const always = { day: NOW_AND_ALWAYS.slice(0, 10), until: NOW_AND_ALWAYS };
  const [last] = loansOfEyepiece(db, subject.id, always);
  const isAway = last?.kind === "lent";
  if (kind === "lent" && isAway) throw new InputError("event.kind", `cannot be: it ${lentWords(last)}`);
  if (kind === "brought back" && !isAway) throw new InputError("event.kind", "cannot be: it is not lent");
  if (last && happenedOn < last.happenedOn) {
    throw new InputError("event.happenedOn", `lies before it was ${last.kind}, ${last.happenedOn}`);
  }
}
