import type { Clock } from "../ports/clock.ts";

const DAY_MS = 86_400_000;

/** A clock that the scenario sets: it stands still between acts, so that whoever looks at it changes nothing. */
export interface DemoClock extends Clock {
  /** Sets the clock to a time of day (UTC) so many days before today. */
  setDaysAgo(daysAgo: number, time: string): void;
  advance(seconds: number): void;
  /** The calendar date so many days before today (negative: after). */
  dateDaysAgo(daysAgo: number): string;
}

/** @param today the date the scenario leads up to, ISO 8601 */
export function demoClock(today: string): DemoClock {
  const midnight = Date.parse(`${today}T00:00:00.000Z`);
  if (Number.isNaN(midnight)) throw new RangeError(`“${today}” is not a date: write it as 2026-01-31.`);
  let now = 0;
  const dateOf = (instant: number): string => new Date(instant).toISOString().slice(0, 10);
  return {
    now: () => new Date(now).toISOString(),
    today: () => dateOf(now),
    setDaysAgo(daysAgo, time) {
      // Never back: an act that took longer than planned puts off the next one.
      now = Math.max(now, Date.parse(`${dateOf(midnight - daysAgo * DAY_MS)}T${time}:00.000Z`));
    },
    advance(seconds) {
      now += Math.round(seconds * 1000);
    },
    dateDaysAgo: (daysAgo) => dateOf(midnight - daysAgo * DAY_MS),
  };
}
