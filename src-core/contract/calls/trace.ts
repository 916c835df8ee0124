import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { Id, RequestId } from "../records/primitives.ts";
import { NewReevaluation, Reevaluation } from "../records/reevaluation.ts";
import {
  AffectedSheetsLetter,
  ForwardTrace,
  TouchedResult,
  TraceChain,
  TraceElsewhere,
  TraceScope,
} from "../records/trace.ts";
import { CHAIN } from "../tags.ts";

const UNTRACEABLE = ["subject.unknown", "replacement.unknown", "replacement.unusable"] as const;

export const traceCalls = {
  "trace.backward": call({
    kind: "read",
    reads: CHAIN,
    input: z.strictObject({ rowId: Id, dimension: z.string().max(40) }),
    output: TraceChain,
    errors: ["row.unknown", "dimension.unknown", "dimension.elsewhere"],
  }),
  /** What is known of a size that was converted elsewhere, to which `trace.backward` has no chain. */
  "trace.elsewhere": call({
    kind: "read",
    reads: CHAIN,
    input: z.strictObject({ rowId: Id, dimension: z.string().max(40) }),
    output: TraceElsewhere,
    errors: ["row.unknown", "dimension.unknown"],
  }),
  "trace.forward": call({
    kind: "read",
    reads: CHAIN,
    input: TraceScope,
    output: ForwardTrace,
    errors: [...UNTRACEABLE],
  }),
  /** The results of one sheet in the scope, by row number above `after`; `next` is null at the end. */
  "trace.forwardRows": call({
    kind: "read",
    reads: CHAIN,
    input: TraceScope.extend({
      sheetId: Id,
      after: z.int().min(0),
      count: z.int().min(1).max(1000),
    }),
    output: z.strictObject({ results: z.array(TouchedResult), next: z.int().nullable() }),
    errors: [...UNTRACEABLE, "sheet.unknown"],
  }),
  "trace.letter": call({
    kind: "read",
    reads: [...CHAIN, "trail"],
    input: TraceScope,
    output: AffectedSheetsLetter,
    errors: [...UNTRACEABLE],
  }),

  /** Newest first. */
  "reevaluations.list": call({
    kind: "read",
    reads: ["re-evaluations"],
    input: Nothing,
    output: z.array(Reevaluation),
    errors: [],
  }),
  /**
   * Makes the recalculated calibrations, sets them in the place of those in force, and begins converting the results;
   * answers at once. One runs at a time.
   */
  "reevaluations.begin": call({
    kind: "write",
    changes: ["re-evaluations", "calibrations", "rows", "sign-offs", "trail"],
    input: z.strictObject({ requestId: RequestId, reevaluation: NewReevaluation }),
    output: Reevaluation,
    errors: ["person.missing", ...UNTRACEABLE, "reevaluation.empty", "reevaluation.busy"],
  }),
  "reevaluations.status": call({
    kind: "read",
    reads: ["re-evaluations"],
    input: z.strictObject({ reevaluationId: Id }),
    output: Reevaluation,
    errors: ["reevaluation.unknown"],
  }),
  /** Stops after the slice under way; what is done stays done. */
  "reevaluations.stop": call({
    kind: "write",
    changes: ["re-evaluations", "trail"],
    input: z.strictObject({ reevaluationId: Id }),
    output: Reevaluation,
    errors: ["person.missing", "reevaluation.unknown"],
  }),
  "reevaluations.resume": call({
    kind: "write",
    changes: ["re-evaluations", "calibrations", "rows", "sign-offs", "trail"],
    input: z.strictObject({ reevaluationId: Id }),
    output: Reevaluation,
    errors: ["person.missing", "reevaluation.unknown", "reevaluation.busy"],
  }),
} as const;
