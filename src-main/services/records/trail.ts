import type { HandlersOf } from "../../dispatch/handlers.ts";
import { trailBefore } from "../../store/repositories/audit-trail.ts";
import { verifyBench } from "../verification/verify-bench.ts";
import type { Deps } from "../write-context/deps.ts";
import type { WorkDesk } from "../write-context/work-desk.ts";

const STOPPED = {
  message: "Verifying was stopped before it was finished.",
  hint: "Nothing was changed. Verify again when there is time.",
};

export function trailServices(deps: Deps, desk: WorkDesk): HandlersOf<"trail.page" | "trail.verify"> {
  return {
    "trail.page": ({ before, count }) => trailBefore(deps.db, before, count),

    // On a connection of its own, while entry goes on: each sheet as it is when its turn comes.
    "trail.verify": ({ requestId }) =>
      desk.follow(requestId, STOPPED, async (following) => {
        const { db, renew, close } = deps.snapshot();
        try {
          return await verifyBench(db, deps.paths.databaseFile, following, renew);
        } finally {
          close();
        }
      }),
  };
}
