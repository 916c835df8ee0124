import { call } from "../call.ts";
import { OverdueState, OverdueUse, OverdueWork } from "../records/overdue-use.ts";
import { Reason, RequestId } from "../records/primitives.ts";

const UNKNOWN_WORK = ["sheet.unknown", "count.unknown", "calibration.unknown"] as const;

export const overdueUseCalls = {
  /** What was used past its due date for a sheet, count or calibration, and what is to be said of it still. */
  "overdueUses.of": call({
    kind: "read",
    reads: ["overdue uses", "calibrations", "micrometers", "sheets", "sign-offs", "counts"],
    input: OverdueWork,
    output: OverdueState,
    errors: UNKNOWN_WORK,
  }),
  /** Says that what is past its due date today is used knowingly: by the person at the bench, and why. */
  "overdueUses.record": call({
    kind: "write",
    changes: ["overdue uses", "trail"],
    input: OverdueWork.extend({ requestId: RequestId, reason: Reason }),
    output: OverdueUse,
    errors: [...UNKNOWN_WORK, "person.missing", "overdue.nothing"],
  }),
} as const;
