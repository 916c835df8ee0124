import { OverdueUse } from "../records/overdue-use.ts";

/** What was used past its due date, knowingly. */
export const OVERDUE_DETAILS = {
  "overdueUses.record": { overdue_use: OverdueUse.omit({ id: true, reason: true, at: true, by: true }) },
} as const;
