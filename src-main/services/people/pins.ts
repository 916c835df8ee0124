import type { Person } from "#core/contract/records/person.ts";
import type { PinState } from "#core/contract/records/sign-off.ts";
import type { DetailOf, TrailEvent } from "#core/contract/trail-events/trail-event.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { keepPinAttempts } from "../../store/bench-file/pin-attempts.ts";
import type { ReadableDb, WritableDb } from "../../store/connection.ts";
import { appendTrail } from "../../store/repositories/audit-trail.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { anyPin, findPin, putPin, removePin } from "../../store/repositories/pin-repository.ts";
import {
  confirmationOf,
  confirmResets,
  insertConfirmation,
  insertPinReset,
  listConfirmations,
  listPinResets,
  openReset,
} from "../../store/repositories/pin-reset-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { oncePerRequest, requirePerson } from "../write-context/in-transaction.ts";
import { proofOfPin, sealOfProof } from "./pin-proof.ts";
import { requireFormerPin, requirePersonNamed, requirePin } from "./require-pin.ts";
import { requireVoucher, requireWitness } from "./vouching.ts";

type Calls = "people.pins" | "people.setPin" | "people.confirm" | "people.clearPin" | "people.confirmReset";

const NO_ATTEMPTS = { failures: 0, blockedUntil: null };

/** What the trail keeps of a PIN, by which one set behind the program's back is found. */
export function pinForTrail(
  db: ReadableDb,
  personId: string,
): { readonly setAt: string; readonly seal: string } | null {
  const kept = findPin(db, personId);
  return kept && { setAt: kept.setAt, seal: sealOfProof(kept) };
}

function pinStateOf(db: ReadableDb, personId: string): PinState {
  const setAt = findPin(db, personId)?.setAt ?? null;
  const open = openReset(db, personId);
  return {
    personId,
    hasPin: setAt !== null,
    setAt,
    confirmed: confirmationOf(db, personId),
    reset: open && { at: open.at, voucher: open.voucher, reason: open.reason },
  };
}

interface Request {
  readonly requestId: string;
  readonly personId: string;
  readonly reason?: string;
  /** What else tells this request from another; never a PIN. */
  readonly about?: string;
}

export function pinServices(deps: Deps) {
  /** The request is remembered without any PIN in it: a digest of one could be searched for. */
  function once<A extends Exclude<Calls, "people.pins">>(
    act: A,
    request: Request,
    by: Person,
    perform: (db: WritableDb, at: string) => DetailOf<A, "person">,
  ): PinState {
    return oncePerRequest<PinState>(deps, act, request, {
      perform(db) {
        const at = deps.clock.now();
        const about = { subject: "person", subjectId: request.personId, reason: request.reason ?? null };
        const event = { act, ...about, detail: perform(db, at) };
        appendTrail(db, event as TrailEvent, { at, personId: by.id });
        return pinStateOf(db, request.personId);
      },
      subjectOf: (pinState) => pinState.personId,
      find: pinStateOf,
    });
  }

  return handlers({
    "people.pins": () => listPeople(deps.db).map(({ id }) => pinStateOf(deps.db, id)),

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
      const pinState = once("people.setPin", { requestId, personId }, person, (db, at) => {
        // Somebody has to be the first; everybody after that is confirmed by somebody.
        const isFirst = !anyPin(db) && listConfirmations(db).size === 0;
        putPin(db, personId, { ...proof, setAt: at });
        if (isFirst) insertConfirmation(db, personId, { at, by: personId });
        const kept = pinForTrail(db, personId);
        if (!kept) throw new Error(`the PIN of ${personId} is missing after it was set`);
        return { hasPin: true, ...kept, isFirst };
      });
      keepPinAttempts(deps.paths, personId, NO_ATTEMPTS);
      return pinState;
    },

    "people.confirm": async ({ requestId, personId, voucherId, voucherPin }) => {
      const person = requirePersonNamed(deps.db, personId, "personId");
      if (confirmationOf(deps.db, personId) !== null) {
        throw new Refusal("person.confirmed", `${person.name} is confirmed already.`, { field: "personId" });
      }
      if (!findPin(deps.db, personId)) {
        throw new Refusal("pin.missing", `${person.name} has no PIN yet.`, {
          field: "personId",
          hint: `${person.name} sets one first; then it can be confirmed whose it is.`,
        });
      }
      requireVoucher(deps.db, voucherId, person, "voucherId");
      const voucher = await requirePin(deps, voucherId, voucherPin, "voucherPin");
      return once("people.confirm", { requestId, personId, about: voucherId }, voucher, (db, at) => {
        insertConfirmation(db, personId, { at, by: voucherId });
        return {};
      });
    },

    "people.clearPin": async ({ requestId, personId, voucherId, voucherPin, reason }) => {
      const person = requirePersonNamed(deps.db, personId, "personId");
      requireVoucher(deps.db, voucherId, person, "voucherId");
      const voucher = await requirePin(deps, voucherId, voucherPin, "voucherPin");
      const request = { requestId, personId, reason, about: voucherId };
      const pinState = once("people.clearPin", request, voucher, (db, at) => {
        const present = findPin(db, personId);
        if (!present) return { hasPin: false };
        // Reset twice before the owner came: still the one of before the first reset proves the owner.
        const { scheme, salt, hash } = openReset(db, personId) ?? present;
        const former = { scheme, salt, hash };
        removePin(db, personId);
        insertPinReset(db, { personId, at, voucher: voucherId, reason, ...former });
        return { hasPin: false, formerSeal: sealOfProof(former) };
      });
      keepPinAttempts(deps.paths, personId, NO_ATTEMPTS);
      return pinState;
    },

    "people.confirmReset": async ({ requestId, personId, pin, proof }) => {
      const owner = requirePersonNamed(deps.db, personId, "personId");
      const resets = listPinResets(deps.db).filter(
        (one) => one.personId === personId && one.confirmedAt === null,
      );
      const former = openReset(deps.db, personId);
      if (former === null) {
        throw new Refusal("pin.not-reset", `No reset of the PIN of ${owner.name} waits to be confirmed.`, {
          field: "personId",
        });
      }
      await requirePin(deps, personId, pin, "pin");
      let by = owner.id;
      if (proof.kind === "former PIN") {
        const { formerPin } = proof;
        await requireFormerPin(deps, personId, { pin: formerPin, former, field: "proof.formerPin" });
      } else {
        const { witnessId, witnessPin } = proof;
        requireWitness(deps.db, witnessId, { owner, resets, field: "proof.witnessId" });
        await requirePin(deps, witnessId, witnessPin, "proof.witnessPin");
        by = witnessId;
      }
      return once("people.confirmReset", { requestId, personId, about: by }, owner, (db, at) => {
        confirmResets(db, personId, { at, by });
        return { by };
      });
    },
  });
}
