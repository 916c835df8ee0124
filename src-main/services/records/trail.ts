import type { VerifyReport } from "#core/contract/records/trail.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { trailBefore } from "../../store/repositories/audit-trail.ts";
import { verifyBench } from "../verification/verify-bench.ts";
import type { Deps } from "../write-context/deps.ts";

/** Checks the bench as it is at this moment, on a connection of its own, while entry goes on. */
async function verify(deps: Deps): Promise<VerifyReport> {
  const { db, close } = deps.snapshot();
  try {
    return await verifyBench(db, deps.paths.databaseFile);
  } finally {
    close();
  }
}

export function trailServices(deps: Deps): HandlersOf<"trail.page" | "trail.verify"> {
  return {
    "trail.page": ({ before, count }) => trailBefore(deps.db, before, count),
    "trail.verify": () => verify(deps),
  };
}
