import type { PinState } from "#core/contract/records/sign-off.ts";
import { columns } from "../columns.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

export type Confirmation = NonNullable<PinState["confirmed"]>;

const confirmed = columns({ at: "text", by: "text" });

/** A reset of a PIN, with the proof of the one its owner had before. */
export type PinReset = ReturnType<typeof resetOf>;
const resetOf = columns({
  personId: "text",
  at: "text",
  voucher: "text",
  reason: "text",
  scheme: "text",
  salt: "text",
  hash: "text",
  confirmedAt: "text?",
  /** The owner, by the PIN of before, or a third person. */
  confirmedBy: "text?",
});

export function confirmationOf(db: ReadableDb, personId: string): Confirmation | null {
  return sql`SELECT at, by FROM person_confirmation WHERE person_id = ${personId}`.one(db, confirmed);
}

/** By person. */
export function listConfirmations(db: ReadableDb): ReadonlyMap<string, Confirmation> {
  return new Map(
    sql`SELECT person_id AS "personId", at, by FROM person_confirmation ORDER BY person_id`.all(
      db,
      ({ personId, at, by }) => [String(personId), { at: String(at), by: String(by) }],
    ),
  );
}

export function insertConfirmation(db: WritableDb, personId: string, { at, by }: Confirmation): void {
  insert(db, "person_confirmation", { person_id: personId, at, by });
}

const COLUMNS = sql`person_id AS "personId", at, voucher_id AS voucher, reason, scheme, salt, hash,
  confirmed_at AS "confirmedAt", confirmed_by AS "confirmedBy"`;

export function listPinResets(db: ReadableDb): PinReset[] {
  return sql`SELECT ${COLUMNS} FROM pin_reset ORDER BY person_id, at`.all(db, resetOf);
}

/** The last reset that its owner has not confirmed. */
export function openReset(db: ReadableDb, personId: string): PinReset | null {
  return sql`SELECT ${COLUMNS} FROM pin_reset
    WHERE person_id = ${personId} AND confirmed_at IS NULL
    ORDER BY at DESC LIMIT 1`.one(db, resetOf);
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
  sql`UPDATE pin_reset SET confirmed_at = ${at}, confirmed_by = ${by} WHERE person_id = ${personId}
    AND confirmed_at IS NULL`.run(db);
}
