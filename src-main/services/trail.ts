import type { VerifyReport } from "#core/contract/records/trail.ts";
import type { HandlersOf } from "../dispatch/handlers.ts";
import { trailBefore } from "../store/audit-trail.ts";
import { createBreather } from "./breather.ts";
import type { Deps } from "./deps.ts";
import { Differences } from "./differences.ts";
import { verifyCalibrations } from "./verify-calibrations.ts";
import { verifyMeasurements } from "./verify-measurements.ts";
import { verifyTallies } from "./verify-tallies.ts";
import { verifyTrail } from "./verify-trail.ts";

/** Checks the bench as it is at this moment, on a connection of its own, while entry goes on. */
async function verify(deps: Deps): Promise<VerifyReport> {
  const { db, close } = deps.snapshot();
  const differences = new Differences();
  const breathe = createBreather();
  try {
    const trailLines = await verifyTrail(db, differences, breathe);
    const calibrations = await verifyCalibrations(db, differences, breathe);
    const measurements = await verifyMeasurements(db, differences, breathe);
    const tallies = await verifyTallies(db, differences, breathe);
    return {
      trailLines,
      measurements,
      calibrations,
      tallies,
      differences: differences.listed,
      more: differences.more,
    };
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
