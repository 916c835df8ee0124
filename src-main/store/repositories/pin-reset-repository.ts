import type { PinState } from "#core/contract/records/sign-off.ts";
import { all, insert, one, type ReadableDb, run, type WritableDb } from "../connection.ts";

export type Confirmation = NonNullable<PinState["confirmed"]>;

/** A reset of a PIN, with the proof of the one its owner had before. */
export interface PinReset {
  readonly personId: string;
  readonly at: string;
  readonly voucher: string;
  readonly reason: string;
  readonly scheme: string;
  readonly salt: string;
  readonly hash: string;
  readonly confirmedAt: string | null;
  /** The owner, by the PIN of before, or a third person. */
  readonly confirmedBy: string | null;
}

export function confirmationOf(db: ReadableDb, personId: string): Confirmation | null {
  return (
    (one(db, "SELECT at, by FROM person_confirmation WHERE person_id = ?", personId) as
      | Confirmation
      | undefined) ?? null
  );
}

/** By person. */
export function listConfirmations(db: ReadableDb): ReadonlyMap<string, Confirmation> {
  return new Map(
    all(db, `SELECT person_id AS "personId", at, by FROM person_confirmation ORDER BY person_id`).map(
      ({ personId, at, by }) => [String(personId), { at: String(at), by: String(by) }],
    ),
  );
}

export function insertConfirmation(db: WritableDb, personId: string, { at, by }: Confirmation): void {
  insert(db, "person_confirmation", { person_id: personId, at, by });
}

const COLUMNS = `person_id AS "personId", at, voucher_id AS voucher, reason, scheme, salt, hash,
  confirmed_at AS "confirmedAt", confirmed_by AS "confirmedBy"`;

export function listPinResets(db: ReadableDb): PinReset[] {
  return all(db, `SELECT ${COLUMNS} FROM pin_reset ORDER BY person_id, at`) as unknown as PinReset[];
}

/** The last reset that its owner has not confirmed. */
export function openReset(db: ReadableDb, personId: string): PinReset | null {
  const row = one(
    db,
    `SELECT ${COLUMNS} FROM pin_reset WHERE person_id = ? AND confirmed_at IS NULL ORDER BY at DESC LIMIT 1`,
    personId,
  );
  return row ? (row as unknown as PinReset) : null;
}

export function insertPinReset(db: WritableDb, reset: Omit<PinReset, "confirmedAt" | "confirmedBy">): void {
  insert(db, "pin_reset", {
    person_id: reset.personId,
    at: reset.at,
    voucher_id: reset.voucher,
    reason: reset.reason,
    scheme: reset.scheme,
    salt: reset.salt,
    hash: reset.hash,
  });
}

/** All that are open: one of them proves the owner as well as the other. */
export function confirmResets(db: WritableDb, personId: string, { at, by }: Confirmation): void {
  run(
    db,
    "UPDATE pin_reset SET confirmed_at = ?, confirmed_by = ? WHERE person_id = ? AND confirmed_at IS NULL",
    at,
    by,
    personId,
  );
}
