import { OwnSettings, USUAL_SETTINGS } from "#core/contract/records/own-settings.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { immediate } from "../../store/connection.ts";
import { keepOwnSettings, ownSettingsOf } from "../../store/repositories/own-settings-repository.ts";
import { findPerson, personInUse } from "../../store/repositories/people-repository.ts";
import type { Deps } from "../write-context/deps.ts";

export function ownSettingsServices(deps: Deps) {
  return handlers({
    "ownSettings.read": () => {
      const person = personInUse(deps.db);
      return person && { personId: person.id, settings: ownSettingsOf(deps.db, person.id) };
    },

    // The window names the person: a change that comes late, when somebody else is at the bench, is still that person's.
    "ownSettings.change": ({ personId, change }) =>
      immediate(deps.db, (db) => {
        if (!findPerson(db, personId)) {
          throw new Refusal("person.unknown", "That person is not registered on this bench.", {
            field: "personId",
            hint: "Choose who is at the bench, then change the setting again.",
          });
        }
        const before = ownSettingsOf(db, personId) ?? USUAL_SETTINGS;
        const settings = OwnSettings.parse({ ...before, ...change });
        keepOwnSettings(db, personId, settings, deps.clock.now());
        return settings;
      }),
  });
}
