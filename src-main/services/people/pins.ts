import type { Person } from "#core/contract/records/person.ts";
import type { PinStanding } from "#core/contract/records/sign-off.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { immediate, type ReadableDb } from "../../store/connection.ts";
import { appendTrail } from "../../store/repositories/audit-trail.ts";
import { findPerson, listPeople } from "../../store/repositories/people-repository.ts";
import {
  countAttempt,
  findPin,
  pinDates,
  putPin,
  removePin,
} from "../../store/repositories/pin-repository.ts";
import { onceOnly, requirePerson } from "../write-context/act.ts";
import type { Deps } from "../write-context/deps.ts";
import { isPin, proofOfPin, sealOfProof } from "./pin-proof.ts";

/** Wrong PINs in a row before a person has to wait, and how long: twice as long each time, up to the longest. */
const FREE_ATTEMPTS = 3;
const FIRST_WAIT_S = 30;
const LONGEST_WAIT_S = 900;

function requirePersonNamed(db: ReadableDb, id: string, field: string): Person {
  const person = findPerson(db, id);
  if (person) return person;
  throw new Refusal("person.unknown", "That person is not registered on this bench.", { field });
}

/** What the trail keeps of a PIN, by which one set behind the program's back is found. */
export function toldPin(
  db: ReadableDb,
  personId: string,
): { readonly setAt: string; readonly seal: string } | null {
  const kept = findPin(db, personId);
  return kept && { setAt: kept.setAt, seal: sealOfProof(kept) };
}

function waitAfter(failures: number): number {
  if (failures < FREE_ATTEMPTS) return 0;
  return Math.min(LONGEST_WAIT_S, FIRST_WAIT_S * 2 ** Math.min(20, failures - FREE_ATTEMPTS));
}

function later(instant: string, seconds: number): string {
  return new Date(Date.parse(instant) + seconds * 1000).toISOString();
}

function standingOf(db: ReadableDb, personId: string): PinStanding {
  const setAt = findPin(db, personId)?.setAt ?? null;
  return { personId, hasPin: setAt !== null, setAt };
}

/** One attempt after another: several at once would all read the same count of failures. */
let lastAttempt: Promise<unknown> = Promise.resolve();

/**
 * Makes sure that whoever typed the PIN is the person named. The PIN goes nowhere but into the comparison.
 * @throws Refusal `person.unknown`, `pin.missing`, `pin.wrong`, `pin.blocked`
 */
export function requirePin(
  deps: Pick<Deps, "db" | "clock">,
  personId: string,
  pin: string,
  field: string,
): Promise<Person> {
  const attempt = lastAttempt.then(
    () => tryPin(deps, personId, pin, field),
    () => tryPin(deps, personId, pin, field),
  );
  lastAttempt = attempt;
  return attempt;
}

async function tryPin(
  { db, clock }: Pick<Deps, "db" | "clock">,
  personId: string,
  pin: string,
  field: string,
): Promise<Person> {
  const person = requirePersonNamed(db, personId, "personId");
  const kept = findPin(db, personId);
  if (!kept) {
    throw new Refusal("pin.missing", `${person.name} has no PIN yet.`, {
      field,
      hint: "Set one under Registers, People.",
    });
  }
  if (kept.blockedUntil !== null && kept.blockedUntil > clock.now()) throw blocked(kept.blockedUntil, field);
  if (await isPin(pin, kept)) {
    if (kept.failures > 0) immediate(db, (writable) => countAttempt(writable, personId, 0, null));
    return person;
  }
  const failures = kept.failures + 1;
  const wait = waitAfter(failures);
  const until = wait > 0 ? later(clock.now(), wait) : null;
  immediate(db, (writable) => countAttempt(writable, personId, failures, until));
  if (until !== null) throw blocked(until, field);
  throw new Refusal("pin.wrong", `That is not the PIN of ${person.name}.`, {
    field,
    hint: `Type it again; after ${countedNoun(FREE_ATTEMPTS - failures, "more wrong one")} there is a wait.`,
  });
}

function blocked(until: string, field: string): Refusal {
  return new Refusal("pin.blocked", "The PIN was typed wrong too often.", {
    field,
    hint: `It can be tried again after ${until.slice(11, 19)} UTC.`,
  });
}

export function pinServices(deps: Deps): HandlersOf<"people.pins" | "people.setPin" | "people.clearPin"> {
  /** The request is remembered without any PIN in it: a digest of one could be searched for. */
  function once(
    call: "people.setPin" | "people.clearPin",
    request: { readonly requestId: string; readonly personId: string; readonly reason?: string },
    by: Person,
    perform: Parameters<typeof onceOnly<PinStanding>>[3]["perform"],
  ): PinStanding {
    return onceOnly<PinStanding>(deps, call, request, {
      perform(db) {
        const standing = perform(db);
        appendTrail(db, {
          at: deps.clock.now(),
          personId: by.id,
          act: call,
          subject: "person",
          subjectId: request.personId,
          reason: request.reason ?? null,
          detail: { hasPin: standing.hasPin, ...toldPin(db, request.personId) },
        });
        return standing;
      },
      subjectOf: (standing) => standing.personId,
      find: standingOf,
    });
  }

  return {
    "people.pins": () => {
      const dates = pinDates(deps.db);
      return listPeople(deps.db).map(({ id }) => ({
        personId: id,
        hasPin: dates.has(id),
        setAt: dates.get(id) ?? null,
      }));
    },

    "people.setPin": async ({ requestId, personId, pin, presentPin }) => {
      const inUse = requirePerson(deps.db);
      const person = requirePersonNamed(deps.db, personId, "personId");
      if (findPin(deps.db, personId)) await requirePin(deps, personId, presentPin ?? "", "presentPin");
      else if (inUse.id !== personId) {
        throw new Refusal("pin.missing", `${person.name} sets the first PIN at the bench in person.`, {
          field: "personId",
          hint: `Choose ${person.name} as the person at the bench, then set the PIN.`,
        });
      }
      const proof = await proofOfPin(pin);
      return once("people.setPin", { requestId, personId }, person, (db) => {
        putPin(db, personId, { ...proof, setAt: deps.clock.now() });
        return standingOf(db, personId);
      });
    },

    "people.clearPin": async ({ requestId, personId, voucherId, voucherPin, reason }) => {
      requirePersonNamed(deps.db, personId, "personId");
      if (voucherId === personId) {
        throw new Refusal("pin.wrong", "Another person with a PIN vouches for the one who forgot theirs.", {
          field: "voucherId",
        });
      }
      const voucher = await requirePin(deps, voucherId, voucherPin, "voucherPin");
      return once("people.clearPin", { requestId, personId, reason }, voucher, (db) => {
        removePin(db, personId);
        return standingOf(db, personId);
      });
    },
  };
}
