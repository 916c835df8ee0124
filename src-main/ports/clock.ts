import { localDate } from "./local-date.ts";

/** The time, as the records write it. Supplied by the host; tests supply a fixed one. */
export interface Clock {
  /** Now in UTC, ISO 8601 with milliseconds. */
  now(): string;
  /** Today's date where the bench stands, ISO 8601. */
  today(): string;
}

/** The clock of this machine. */
export const systemClock: Clock = {
  now: () => new Date().toISOString(),
  today: () => localDate(new Date().toISOString()),
};
