import { all, one, type ReadableDb, run, type WritableDb } from "../connection.ts";

export interface StoredPin {
  readonly scheme: string;
  readonly salt: string;
  readonly hash: string;
  readonly setAt: string;
  readonly failures: number;
  readonly blockedUntil: string | null;
}

const COLUMNS = `scheme, salt, hash, set_at AS "setAt", failures, blocked_until AS "blockedUntil"`;

export function findPin(db: ReadableDb, personId: string): StoredPin | null {
  const row = one(db, `SELECT ${COLUMNS} FROM person_pin WHERE person_id = ?`, personId);
  return row ? (row as unknown as StoredPin) : null;
}

/** Who has a PIN, and since when. */
export function pinDates(db: ReadableDb): ReadonlyMap<string, string> {
  return new Map(
    all(db, "SELECT person_id, set_at FROM person_pin").map((row) => [
      String(row.person_id),
      String(row.set_at),
    ]),
  );
}

export function anyPin(db: ReadableDb): boolean {
  return one(db, "SELECT 1 FROM person_pin LIMIT 1") !== undefined;
}

export function putPin(
  db: WritableDb,
  personId: string,
  pin: Omit<StoredPin, "failures" | "blockedUntil">,
): void {
  run(
    db,
    `INSERT INTO person_pin (person_id, scheme, salt, hash, set_at, failures) VALUES (?, ?, ?, ?, ?, 0)
     ON CONFLICT (person_id) DO UPDATE SET scheme = excluded.scheme, salt = excluded.salt, hash = excluded.hash,
       set_at = excluded.set_at, failures = 0, blocked_until = NULL`,
    personId,
    pin.scheme,
    pin.salt,
    pin.hash,
    pin.setAt,
  );
}

export function removePin(db: WritableDb, personId: string): void {
  run(db, "DELETE FROM person_pin WHERE person_id = ?", personId);
}

export function countAttempt(
  db: WritableDb,
  personId: string,
  failures: number,
  blockedUntil: string | null,
): void {
  run(
    db,
    "UPDATE person_pin SET failures = ?, blocked_until = ? WHERE person_id = ?",
    failures,
    blockedUntil,
    personId,
  );
}
