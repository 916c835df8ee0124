import type { LaboratorySettings } from "#core/contract/records/laboratory.ts";
import { handlers } from "../../dispatch/handlers.ts";
import {
  keepLaboratorySettings,
  laboratorySettings,
} from "../../store/repositories/laboratory-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout } from "../write-context/in-transaction.ts";

export function laboratoryServices(deps: Deps) {
  return handlers({
    "laboratory.settings": () => laboratorySettings(deps.db),

    "laboratory.change": (input, call) =>
      inTransactionOnceAbout<LaboratorySettings>(deps, call, input, {
        perform({ db, audit }) {
          const from = laboratorySettings(db);
          keepLaboratorySettings(db, input.settings);
          audit({
            act: "laboratory.change",
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
  });
}
