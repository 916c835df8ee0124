import type { ItemRef, SERVICE_STATES, ServiceState } from "#core/contract/records/service-state.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { historyOf } from "../../store/repositories/item-history-repository.ts";
import {
  insertServiceState,
  isRegistered,
  listReplacements,
  outOfServiceSince,
  presentServiceStates,
  type RegisteredKind,
  serviceStatesOf,
} from "../../store/repositories/service-state-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout } from "../write-context/in-transaction.ts";
import { requireNotLent } from "./lent-eyepiece.ts";
import { requireOnTurret } from "./replaced-objective.ts";

/** @throws Refusal `item.unknown` */
export function requireRegistered(db: ReadableDb, kind: RegisteredKind, id: string, field: string): void {
  if (isRegistered(db, kind, id)) return;
  throw new Refusal("item.unknown", `That ${kind} is not registered on this bench.`, { field });
}

/** @throws Refusal `item.out-of-service` for an item that is not to be used on this day */
export function requireInService(db: ReadableDb, item: ItemRef, today: string, field: string): void {
  if (item.kind === "objective") requireOnTurret(db, { objectiveId: item.id }, today, field);
  if (item.kind === "eyepiece") requireNotLent(db, item.id, today, field);
  const out = outOfServiceSince(db, item, today);
  if (!out) return;
  throw new Refusal(
    "item.out-of-service",
    `That ${item.kind} is out of service since ${out.from}: ${out.reason}`,
    { field, hint: "Choose another, or put it back in service under Registers." },
  );
}

function stateNow(db: ReadableDb, item: ItemRef): (typeof SERVICE_STATES)[number] {
  return serviceStatesOf(db, item)[0]?.state ?? "in service";
}

const SUBJECT_OF = {
  microscope: "microscope",
  objective: "objective",
  eyepiece: "eyepiece",
  "stage micrometer": "stage_micrometer",
} as const;

export function serviceStateServices(deps: Deps) {
  return handlers({
    "registers.serviceStates": () => presentServiceStates(deps.db),
    "certificates.replacements": () => listReplacements(deps.db),

    "registers.setServiceState": (input, call) =>
      inTransactionOnceAbout<ServiceState>(deps, call, input, {
        perform({ db, at, by, audit }) {
          const { item, state, from, reason } = input;
          requireRegistered(db, item.kind, item.id, "item");
          if (item.kind === "objective")
            requireOnTurret(db, { objectiveId: item.id }, deps.clock.today(), "item");
          if (from > deps.clock.today()) throw new InputError("from", "lies in the future");
          if (stateNow(db, item) === state) {
            throw new Refusal("item.unchanged", `That ${item.kind} is ${state} already.`, { field: "state" });
          }
          const change: ServiceState = { item, state, from, reason, at, by: by.id };
          insertServiceState(db, change);
          audit({
            act: "registers.setServiceState",
            subject: SUBJECT_OF[item.kind],
            subjectId: item.id,
            reason,
            detail: { state, from },
          });
          return change;
        },
        subjectOf: ({ item }) => item.id,
        find: (db, id) => serviceStatesOf(db, { kind: input.item.kind, id })[0] ?? null,
      }),

    "registers.history": ({ kind, id }) => {
      requireRegistered(deps.db, kind, id, "id");
      return {
        lines: historyOf(deps.db, kind, id),
        states: kind === "certificate" || kind === "person" ? [] : serviceStatesOf(deps.db, { kind, id }),
      };
    },
  });
}
