import type { EquipmentEvent } from "#core/contract/records/equipment-event.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { handlers } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  findEvent,
  insertEvent,
  listEvents,
  trainIdsWith,
} from "../../store/repositories/event-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce } from "../write-context/in-transaction.ts";
import { requireLoanInTurn } from "./lent-eyepiece.ts";
import { requireRegistered } from "./service-states.ts";
import { withOpenTrains } from "./train-fitness.ts";

function eventAsItStands(db: ReadableDb, id: string): EquipmentEvent | null {
  const event = findEvent(db, id);
  return event ? withOpenTrains(db, event) : null;
}

export function eventServices(deps: Deps) {
  return handlers({
    "events.list": ({ microscopeId }) => {
      const there = microscopeId && new Set(trainIdsWith(deps.db, { kind: "microscope", id: microscopeId }));
      return listEvents(deps.db)
        .filter((event) => !there || event.trainIds.some((id) => there.has(id)))
        .map((event) => withOpenTrains(deps.db, event));
    },

    "events.record": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        ({ db, at, by, audit }) => {
          const { subject, kind, happenedOn, words, unchanged } = input.event;
          requireRegistered(db, subject.kind, subject.id, "event.subject");
          if (happenedOn > deps.clock.today()) throw new InputError("event.happenedOn", "lies in the future");
          requireLoanInTurn(db, input.event);
          const stated = unchanged ? { unchanged } : {};
          const trainIds = trainIdsWith(db, subject);
          const event = {
            id: deps.ids.next(),
            kind,
            subject,
            happenedOn,
            words,
            recordedAt: at,
            recordedBy: by.id,
            trainIds,
            ...stated,
          };
          insertEvent(db, event);
          audit({
            act: "events.record",
            subject: subject.kind,
            subjectId: subject.id,
            detail: { eventId: event.id, kind, happenedOn, words, trainIds, ...stated },
          });
          return withOpenTrains(db, event);
        },
        eventAsItStands,
      ),
  });
}
