import type { LaboratorySettings } from "#core/contract/records/laboratory.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import {
  keepLaboratorySettings,
  laboratorySettings,
} from "../../store/repositories/laboratory-repository.ts";
import { actOnceAbout } from "../write-context/act.ts";
import type { Deps } from "../write-context/deps.ts";

export function laboratoryServices(deps: Deps): HandlersOf<"laboratory.settings" | "laboratory.change"> {
  return {
    "laboratory.settings": () => laboratorySettings(deps.db),

    "laboratory.change": (input) =>
      actOnceAbout<LaboratorySettings>(deps, "laboratory.change", input, {
        perform({ db, note }) {
          const from = laboratorySettings(db);
          keepLaboratorySettings(db, input.settings);
          note({
            subject: "laboratory",
            subjectId: "laboratory",
            reason: input.reason,
            detail: { from, to: input.settings },
          });
          return input.settings;
        },
        subjectOf: () => "laboratory",
        find: laboratorySettings,
      }),
  };
}
