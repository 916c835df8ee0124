import { Person } from "#core/contract/records/person.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { nameKey } from "../name-key.ts";
import { insert, sql } from "../sql.ts";
import { keepSetting } from "./laboratory-repository.ts";

const COLUMNS = sql`id, name, initials, interpupillary_mm AS "interpupillaryMm",
  registered_at AS "registeredAt"`;
const IN_USE = "person_in_use";

export function listPeople(db: ReadableDb): Person[] {
  return sql`SELECT ${COLUMNS} FROM person ORDER BY registered_at, rowid`.all(db, Person);
}

export function findPerson(db: ReadableDb, id: string): Person | null {
  return sql`SELECT ${COLUMNS} FROM person WHERE id = ${id}`.one(db, Person);
}

export function findPersonNamed(db: ReadableDb, name: string): Person | null {
  return sql`SELECT ${COLUMNS} FROM person WHERE name_key = ${nameKey(name)}`.one(db, Person);
}

/** @param namesakes true: another person of that name may be there already, known apart by their identifiers */
export function insertPerson(db: WritableDb, person: Person, { namesakes = false } = {}): void {
  const taken = namesakes && findPersonNamed(db, person.name) !== null;
  insert(db, "person", {
    id: person.id,
    name: person.name,
    name_key: taken ? nameKey(person.name, person.id) : nameKey(person.name),
    initials: person.initials,
    interpupillary_mm: person.interpupillaryMm,
    registered_at: person.registeredAt,
  });
}

/** Who is at the bench; null until somebody has said so. */
export function personInUse(db: ReadableDb): Person | null {
  return sql`SELECT ${COLUMNS} FROM person
    WHERE id = (SELECT value FROM bench_setting WHERE key = ${IN_USE})`.one(db, Person);
}

export function choosePersonInUse(db: WritableDb, personId: string): void {
  keepSetting(db, IN_USE, personId);
}
