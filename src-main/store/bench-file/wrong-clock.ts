import type { ReadableDb } from "../connection.ts";
import { sql } from "../sql.ts";
import { unpackInstant } from "../trail-packing.ts";

const MINUTE_MS = 60_000;

/** A clock that shows less than the newest line of the trail, in words for the person; null when it does not. */
export function wrongClock(db: ReadableDb, now: string): string | null {
  const found = sql`SELECT max(at) AS at FROM audit_line`.one(db)?.at;
  const newest = found == null ? null : unpackInstant(found);
  if (newest === null || Date.parse(newest) - Date.parse(now) < MINUTE_MS) return null;
  const words = (instant: string): string => `${instant.slice(0, 16).replace("T", " ")} UTC`;
  return `This computer says that it is ${words(now)}, but the newest entry of the bench is from ${words(newest)}. Set the clock right before you go on: entries bear its time.`;
}
