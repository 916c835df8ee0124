import { handlers } from "../../dispatch/handlers.ts";
import { trailHeadOf } from "../../store/repositories/audit-trail.ts";
import { laboratorySettings } from "../../store/repositories/laboratory-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { affectedSheetsLetter } from "./affected-sheets-letter.ts";
import { traceBackward, traceElsewhere } from "./backward-trace.ts";
import { touchedRows } from "./forward-rows.ts";
import { traceForward } from "./forward-trace.ts";

export function traceServices(deps: Deps) {
  /** A view of the bench as it is now, whatever is entered while it is read. */
  async function forward(scope: Parameters<typeof traceForward>[1]): ReturnType<typeof traceForward> {
    const { db, close } = deps.snapshot();
    try {
      return await traceForward(db, scope, deps.clock.now());
    } finally {
      close();
    }
  }

  return handlers({
    "trace.backward": ({ rowId, dimension }) => traceBackward(deps.db, rowId, dimension, deps.clock.now()),
    "trace.elsewhere": ({ rowId, dimension }) => traceElsewhere(deps.db, rowId, dimension),
    "trace.forward": forward,
    "trace.forwardRows": (input) => touchedRows(deps.db, input),
    "trace.letter": async (scope) =>
      affectedSheetsLetter(
        await forward(scope),
        laboratorySettings(deps.db),
        deps.program.version,
        trailHeadOf(deps.db),
      ),
  });
}
