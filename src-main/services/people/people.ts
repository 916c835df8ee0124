import type { Person } from "#core/contract/records/person.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { immediate } from "../../store/connection.ts";
import { appendTrail } from "../../store/repositories/audit-trail.ts";
import {
  choosePersonInUse,
  findPerson,
  findPersonNamed,
  insertPerson,
  listPeople,
  personInUse,
} from "../../store/repositories/people-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { oncePerRequest } from "../write-context/in-transaction.ts";
import { requireHere } from "./require-here.ts";

export function peopleServices(deps: Deps) {
  return handlers({
    "people.list": () => listPeople(deps.db),

    // The one act that needs nobody at the bench: somebody has to be the first.
    "people.register": (input, call) =>
      oncePerRequest<Person>(deps, call, input, {
        perform(db) {
          const { name, initials, interpupillaryMm } = input.person;
          const namesake = findPersonNamed(db, name);
          if (namesake) {
            throw new Refusal("person.taken", `${namesake.name} is registered already.`, {
              field: "person.name",
              hint: "Choose that person, or add something to the name that tells the two apart.",
            });
          }
          const person: Person = {
            id: deps.ids.next(),
            name,
            initials,
            interpupillaryMm,
            registeredAt: deps.clock.now(),
          };
          insertPerson(db, person);
          appendTrail(
            db,
            {
              act: "people.register",
              subject: "person",
              subjectId: person.id,
              detail: { name, initials, interpupillaryMm },
            },
            { at: person.registeredAt, personId: personInUse(db)?.id ?? null },
          );
          return person;
        },
        subjectOf: (person) => person.id,
        find: findPerson,
      }),

    "people.choose": ({ personId }) =>
      immediate(deps.db, (db) => {
        const person = findPerson(db, personId);
        if (!person) {
          throw new Refusal("person.unknown", "That person is not registered on this bench.", {
            field: "personId",
            hint: "Register the person first.",
          });
        }
        requireHere(db, person, "personId");
        const before = personInUse(db);
        if (before?.id === personId) return person;
        choosePersonInUse(db, personId);
        appendTrail(
          db,
          {
            act: "people.choose",
            subject: "person",
            subjectId: personId,
            detail: { from: before?.name ?? null, to: person.name },
          },
          { at: deps.clock.now(), personId },
        );
        return person;
      }),
  });
}
