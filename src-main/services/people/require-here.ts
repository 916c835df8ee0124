import type { Person } from "#core/contract/records/person.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { standingOf } from "../../store/repositories/person-standing-repository.ts";

export function isSetAside(db: ReadableDb, personId: string): boolean {
  return standingOf(db, personId)?.standing === "set aside";
}

/** @throws Refusal `person.set-aside` for somebody who works here no more */
export function requireHere(db: ReadableDb, person: Person, field: string): void {
  const last = standingOf(db, person.id);
  if (last?.standing !== "set aside") return;
  throw new Refusal(
    "person.set-aside",
    `${person.name} was set aside on ${last.at.slice(0, 10)}: ${last.reason}`,
    { field, hint: "Choose another person, or bring this one back under Registers, People." },
  );
}
