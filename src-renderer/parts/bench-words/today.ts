import { shownDay } from "./instant.ts";

/** Today's calendar date at this machine, ISO 8601. */
export function today(now: Date = new Date()): string {
  return shownDay(now.toISOString());
}
