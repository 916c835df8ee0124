import type { CallName } from "#core/contract/calls.ts";
import type { Person } from "#core/contract/records/person.ts";
import { storedAct } from "#core/contract/stored-names.ts";
import type { TrailEvent } from "#core/contract/trail-events/trail-event.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { immediate, type ReadableDb, type WritableDb } from "../../store/connection.ts";
import { appendTrail } from "../../store/repositories/audit-trail.ts";
import { personInUse } from "../../store/repositories/people-repository.ts";
import { digestOf, findRequest, rememberRequest } from "../../store/repositories/request-repository.ts";
import type { Deps } from "./deps.ts";

/** One write of one person at one instant: what its records and its lines of the trail share. */
export interface WriteContext {
  readonly db: WritableDb;
  readonly at: string;
  readonly by: Person;
  /** Adds a line to the trail. */
  audit(event: TrailEvent): void;
}

/** The person in use. @throws Refusal `person.missing` */
export function requirePerson(db: ReadableDb): Person {
  const person = personInUse(db);
  if (person) return person;
  throw new Refusal("person.missing", "Nobody has said who is at the bench.", {
    hint: "Choose or register the person at the bench, then do this again. Nothing was stored.",
  });
}

function contextOf(deps: Deps, db: WritableDb): WriteContext {
  const at = deps.clock.now();
  const by = requirePerson(db);
  return {
    db,
    at,
    by,
    audit: (event) => appendTrail(db, event, { at, personId: by.id }),
  };
}

/** Runs one write of the person in use in one transaction: whole or not at all. @throws Refusal `person.missing` and what `perform` throws */
export function inTransaction<T>(deps: Deps, perform: (ctx: WriteContext) => T): T {
  return immediate(deps.db, (db) => perform(contextOf(deps, db)));
}

export interface OncePerRequest<T> {
  perform(db: WritableDb): T;
  /** Which record answers a repetition. */
  subjectOf(value: T): string;
  /** The record as it stands; null is a defect. */
  find(db: ReadableDb, subjectId: string): T | null;
}

/**
 * Acts once per request id: a repeated request, as after a lost answer, is answered with the record as it stands and
 * nothing is done again. The same id with another input is refused rather than taken for a repetition.
 */
export function oncePerRequest<T>(
  deps: Deps,
  call: CallName,
  input: { readonly requestId: string },
  { perform, subjectOf, find }: OncePerRequest<T>,
): T {
  return immediate(deps.db, (db) => {
    const digest = digestOf(input);
    const done = findRequest(db, input.requestId);
    if (!done) {
      const value = perform(db);
      rememberRequest(
        db,
        input.requestId,
        { act: storedAct(call), digest, subjectId: subjectOf(value) },
        deps.clock.now(),
      );
      return value;
    }
    if (done.act !== storedAct(call) || done.digest !== digest) {
      throw new Refusal("input.invalid", "was already used for another act: make a new one for each act", {
        field: "requestId",
      });
    }
    const value = find(db, done.subjectId);
    if (value === null) throw new Error(`the record ${done.subjectId} of a finished request is missing`);
    return value;
  });
}

/** As `oncePerRequest`, by the person in use, about a record that `subjectOf` names. */
export function inTransactionOnceAbout<T>(
  deps: Deps,
  call: CallName,
  input: { readonly requestId: string },
  {
    perform,
    subjectOf,
    find,
  }: Omit<OncePerRequest<T>, "perform"> & { readonly perform: (ctx: WriteContext) => T },
): T {
  return oncePerRequest(deps, call, input, {
    perform: (db) => perform(contextOf(deps, db)),
    subjectOf,
    find,
  });
}

/** As `oncePerRequest`, by the person in use. */
export function inTransactionOnce<T extends { readonly id: string }>(
  deps: Deps,
  call: CallName,
  input: { readonly requestId: string },
  perform: (ctx: WriteContext) => T,
  find: (db: ReadableDb, id: string) => T | null,
): T {
  return inTransactionOnceAbout(deps, call, input, { perform, subjectOf: (value) => value.id, find });
}
