import { columns } from "../columns.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

export type StoredPin = ReturnType<typeof pinOf>;
const pinOf = columns({
  scheme: "text",
  salt: "text",
  hash: "text",
  setAt: "text",
  failures: "number",
  blockedUntil: "text?",
});

const COLUMNS = sql`scheme, salt, hash, set_at AS "setAt", failures, blocked_until AS "blockedUntil"`;

export function findPin(db: ReadableDb, personId: string): StoredPin | null {
  return sql`SELECT ${COLUMNS} FROM person_pin WHERE person_id = ${personId}`.one(db, pinOf);
}

/** Who has a PIN, and since when. */
export function pinDates(db: ReadableDb): ReadonlyMap<string, string> {
  return new Map(
    sql`SELECT person_id, set_at FROM person_pin`
      .all(db)
      .map((row) => [String(row.person_id), String(row.set_at)]),
  );
}

export function anyPin(db: ReadableDb): boolean {
  return sql`SELECT 1 FROM person_pin LIMIT 1`.exists(db);
}

export function putPin(
  db: WritableDb,
  personId: string,
  pin: Omit<StoredPin, "failures" | "blockedUntil">,
): void {
  const { scheme, salt, hash, setAt: set_at } = pin;
  const kept = { person_id: personId, scheme, salt, hash, set_at, failures: 0, blocked_until: null };
  insert(db, "person_pin", kept, ["person_id"]);
}

export function removePin(db: WritableDb, personId: string): void {
  sql`DELETE FROM person_pin WHERE person_id = ${personId}`.run(db);
}

export function countAttempt(
  db: WritableDb,
  personId: string,
  failures: number,
  blockedUntil: string | null,
): void {
  sql`UPDATE person_pin SET failures = ${failures}, blocked_until = ${blockedUntil}
    WHERE person_id = ${personId}`.run(db);
}
