import type { Person } from "#core/contract/records/person.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { confirmationOf, openReset, type PinReset } from "../../store/repositories/pin-reset-repository.ts";
import { requirePersonNamed } from "./require-pin.ts";

function unfit(message: string, hint: string, field: string): Refusal {
  return new Refusal("voucher.unfit", message, { field, hint });
}

/**
 * Somebody who may answer for another: confirmed before, and with a PIN that nobody has reset since. Whoever was only
 * just registered is not, or a person could be invented to vouch.
 * @throws Refusal `voucher.unfit`, `person.unknown`
 */
export function requireVoucher(db: ReadableDb, id: string, forWhom: Person, field: string): Person {
  const voucher = requirePersonNamed(db, id, field);
  if (voucher.id === forWhom.id) {
    throw unfit("Nobody vouches for themselves.", "Choose another person with a PIN.", field);
  }
  if (confirmationOf(db, id) === null) {
    throw unfit(
      `${voucher.name} has not been confirmed by anybody yet.`,
      "Somebody who was confirmed before confirms them first, under Registers, People.",
      field,
    );
  }
  if (openReset(db, id) !== null) {
    throw unfit(
      `The PIN of ${voucher.name} was reset, and ${voucher.name} has not confirmed that.`,
      "Choose another person, or let the reset be confirmed first.",
      field,
    );
  }
  return voucher;
}

/**
 * A third person who can say that a reset PIN is with its owner: another than who vouched, and confirmed before the
 * reset. @throws Refusal `voucher.unfit`, `person.unknown`
 */
export function requireWitness(
  db: ReadableDb,
  id: string,
  {
    owner,
    resets,
    field,
  }: { readonly owner: Person; readonly resets: readonly PinReset[]; readonly field: string },
): Person {
  const witness = requireVoucher(db, id, owner, field);
  if (resets.some((one) => one.voucher === id)) {
    throw unfit(`${witness.name} vouched for the reset.`, "A third person confirms it.", field);
  }
  const confirmed = confirmationOf(db, id);
  if (confirmed === null || resets.some((one) => confirmed.at >= one.at)) {
    throw unfit(
      `${witness.name} was confirmed only after the PIN was reset.`,
      "Somebody confirms it who was confirmed before the reset.",
      field,
    );
  }
  return witness;
}
