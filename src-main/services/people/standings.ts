import type { Person } from "#core/contract/records/person.ts";
import type { PersonStanding } from "#core/contract/records/person-standing.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { personInUse } from "../../store/repositories/people-repository.ts";
import {
  insertStanding,
  listStandings,
  standingOf,
} from "../../store/repositories/person-standing-repository.ts";
import { pinDates } from "../../store/repositories/pin-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout } from "../write-context/in-transaction.ts";
import { isSetAside } from "./require-here.ts";
import { requirePersonNamed } from "./require-pin.ts";

/** @throws Refusal where nobody could sign any more, or the person works at this moment */
function requireDispensable(db: ReadableDb, person: Person): void {
  if (personInUse(db)?.id === person.id) {
    throw new Refusal("person.at-bench", `${person.name} is at the bench.`, {
      field: "personId",
      hint: "Choose another person at the bench first (F4).",
    });
  }
  const withPin = [...pinDates(db).keys()].filter((id) => !isSetAside(db, id));
  if (withPin.length === 1 && withPin[0] === person.id) {
    throw new Refusal("person.last-pin", `Nobody but ${person.name} has a PIN.`, {
      field: "personId",
      hint: "Another person sets a PIN first, so that there is somebody left to sign.",
    });
  }
}

export function standingServices(deps: Deps) {
  return handlers({
    "people.standings": () => [
      ...new Map(listStandings(deps.db).map((change) => [change.personId, change])).values(),
    ],

    "people.setStanding": (input, call) =>
      inTransactionOnceAbout<PersonStanding>(deps, call, input, {
        perform({ db, at, by, audit }) {
          const { personId, standing, reason } = input;
          const person = requirePersonNamed(db, personId, "personId");
          if ((standingOf(db, personId)?.standing ?? "working here") === standing) {
            const words = standing === "set aside" ? "is set aside" : "works here";
            throw new Refusal("person.unchanged", `${person.name} ${words} already.`, { field: "standing" });
          }
          if (standing === "set aside") requireDispensable(db, person);
          const change: PersonStanding = { personId, standing, reason, at, by: by.id };
          insertStanding(db, change);
          audit({
            act: "people.setStanding",
            subject: "person",
            subjectId: personId,
            reason,
            detail: { standing },
          });
          return change;
        },
        subjectOf: ({ personId }) => personId,
        find: standingOf,
      }),
  });
}
