import type { VerifyProgress } from "#core/contract/records/trail.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { trailBefore } from "../../store/repositories/audit-trail.ts";
import { verifyBench } from "../verification/verify-bench.ts";
import type { Deps } from "../write-context/deps.ts";

interface Run {
  readonly stop: AbortController;
  progress: VerifyProgress | null;
}

export function trailServices(
  deps: Deps,
): HandlersOf<"trail.page" | "trail.verify" | "trail.verifying" | "trail.stopVerifying"> {
  let current: Run | null = null;
  return {
    "trail.page": ({ before, count }) => trailBefore(deps.db, before, count),

    // Of the bench as it is at this moment, on a connection of its own, while entry goes on.
    "trail.verify": async () => {
      current?.stop.abort();
      const run: Run = { stop: new AbortController(), progress: null };
      current = run;
      const { signal } = run.stop;
      const { db, close } = deps.snapshot();
      try {
        return await verifyBench(db, deps.paths.databaseFile, {
          signal,
          tell: (progress) => {
            run.progress = progress;
          },
        });
      } catch (error) {
        if (!signal.aborted) throw error;
        throw new Refusal("verify.stopped", "Verifying was stopped before it was finished.", {
          hint: "Nothing was changed. Verify again when there is time.",
        });
      } finally {
        close();
        if (current === run) current = null;
      }
    },

    "trail.verifying": () => current?.progress ?? null,

    "trail.stopVerifying": () => {
      current?.stop.abort();
      return {};
    },
  };
}
