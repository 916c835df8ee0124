import type { Person } from "#core/contract/records/person.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { keepPinAttempts, type PinAttempts, pinAttempts } from "../../store/bench-file/pin-attempts.ts";
import { immediate, type ReadableDb } from "../../store/connection.ts";
import { findPerson } from "../../store/repositories/people-repository.ts";
import { countAttempt, findPin } from "../../store/repositories/pin-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { isPin, type PinProof } from "./pin-proof.ts";
import { requireHere } from "./require-here.ts";

/** Wrong PINs in a row before a person has to wait, and how long: twice as long each time, up to the longest. */
const FREE_ATTEMPTS = 3;
const FIRST_WAIT_S = 30;
const LONGEST_WAIT_S = 900;

type PinDeps = Pick<Deps, "db" | "clock" | "paths">;

/** What is tried: whose, as typed, in which field of the input, and against what. */
interface Attempt {
  readonly personId: string;
  readonly pin: string;
  readonly field: string;
  readonly against: "present PIN" | PinProof;
}

/** @throws Refusal `person.unknown` */
export function requirePersonNamed(db: ReadableDb, id: string, field: string): Person {
  const person = findPerson(db, id);
  if (person) return person;
  throw new Refusal("person.unknown", "That person is not registered on this bench.", { field });
}

function waitAfter(failures: number): number {
  if (failures < FREE_ATTEMPTS) return 0;
  return Math.min(LONGEST_WAIT_S, FIRST_WAIT_S * 2 ** Math.min(20, failures - FREE_ATTEMPTS));
}

function later(instant: string, seconds: number): string {
  return new Date(Date.parse(instant) + seconds * 1000).toISOString();
}

/** One attempt after another: several at once would all read the same count of failures. */
let lastAttempt: Promise<unknown> = Promise.resolve();

function inTurn(deps: PinDeps, attempt: Attempt): Promise<Person> {
  const work = lastAttempt.then(
    () => tryPin(deps, attempt),
    () => tryPin(deps, attempt),
  );
  lastAttempt = work;
  return work;
}

/**
 * Makes sure that whoever typed the PIN is the person named. The PIN goes nowhere but into the comparison.
 * @throws Refusal `person.unknown`, `person.set-aside`, `pin.missing`, `pin.wrong`, `pin.blocked`
 */
export function requirePin(deps: PinDeps, personId: string, pin: string, field: string): Promise<Person> {
  return inTurn(deps, { personId, pin, field, against: "present PIN" });
}

/** As `requirePin`, against a PIN the person had before; tries count together. */
export function requireFormerPin(
  deps: PinDeps,
  personId: string,
  { pin, former, field }: { readonly pin: string; readonly former: PinProof; readonly field: string },
): Promise<Person> {
  return inTurn(deps, { personId, pin, field, against: former });
}

/** The bench's count or the one beside it, whichever is stricter: a restored backup knows only the earlier one. */
function attemptsSoFar({ paths }: PinDeps, personId: string, inBench: PinAttempts): PinAttempts {
  const beside = pinAttempts(paths, personId);
  const until = [inBench.blockedUntil, beside.blockedUntil].filter((one) => one !== null).sort();
  return { failures: Math.max(inBench.failures, beside.failures), blockedUntil: until.at(-1) ?? null };
}

function keepAttempts({ db, paths }: PinDeps, personId: string, attempts: PinAttempts): void {
  immediate(db, (writable) => countAttempt(writable, personId, attempts.failures, attempts.blockedUntil));
  keepPinAttempts(paths, personId, attempts);
}

async function tryPin(deps: PinDeps, { personId, pin, field, against }: Attempt): Promise<Person> {
  const { db, clock } = deps;
  const person = requirePersonNamed(db, personId, "personId");
  requireHere(db, person, field);
  const kept = findPin(db, personId);
  if (!kept) {
    throw new Refusal("pin.missing", `${person.name} has no PIN yet.`, {
      field,
      hint: "Set one under Registers, People.",
    });
  }
  const { failures: before, blockedUntil } = attemptsSoFar(deps, personId, kept);
  if (blockedUntil !== null && blockedUntil > clock.now()) throw blocked(blockedUntil, field);
  if (await isPin(pin, against === "present PIN" ? kept : against)) {
    // Trying out a former PIN between two tries of the present one starts no new count.
    if (before > 0 && against === "present PIN") {
      keepAttempts(deps, personId, { failures: 0, blockedUntil: null });
    }
    return person;
  }
  const failures = before + 1;
  const wait = waitAfter(failures);
  const until = wait > 0 ? later(clock.now(), wait) : null;
  keepAttempts(deps, personId, { failures, blockedUntil: until });
  if (until !== null) throw blocked(until, field);
  throw new Refusal(
    "pin.wrong",
    against === "present PIN" ? `That is not the PIN of ${person.name}.` : "That is not the PIN of before.",
    {
      field,
      hint: `Type it again; after ${countedNoun(FREE_ATTEMPTS - failures, "more wrong one")} there is a wait.`,
    },
  );
}

function blocked(until: string, field: string): Refusal {
  return new Refusal("pin.blocked", "The PIN was typed wrong too often.", {
    field,
    hint: `It can be tried again after ${until.slice(11, 19)} UTC.`,
  });
}
