import { z } from "zod";
import { Sha256 } from "../records/attachment.ts";
import { CalibrationSwap, NewReevaluation, Reevaluation } from "../records/reevaluation.ts";

const Progress = Reevaluation.pick({ done: true, total: true });

/** Re-evaluations and the slices they are made in. */
export const TRACING_DETAILS = {
  "reevaluations.begin": {
    reevaluation: NewReevaluation.extend(Reevaluation.pick({ swaps: true, total: true }).shape),
  },
  "reevaluations.slice": {
    reevaluation: CalibrationSwap.extend({
      slice: z.int(),
      results: z.int(),
      /** Numbers of the results that were kept, and the hash over them. */
      superseded: z.strictObject({ first: z.int(), last: z.int() }),
      sha256: Sha256,
    }),
  },
  "reevaluations.stop": { reevaluation: Progress },
  "reevaluations.resume": { reevaluation: Progress },
  "reevaluations.finish": {
    reevaluation: Reevaluation.pick({ swaps: true, done: true, reopenedSheets: true }),
  },
} as const;
