import type { Clock } from "#main/ports/clock.ts";
import type { Ids } from "#main/ports/ids.ts";

export interface SettableClock extends Clock {
  /** Sets the instant; the date of today is its UTC date. */
  set(instant: string): void;
}

/** A clock that stands still until it is set; each look at it is one millisecond later, so that order shows. */
export function fixedClock(start = "2026-03-02T09:00:00.000Z"): SettableClock {
  let now = Date.parse(start);
  return {
    now() {
      const instant = new Date(now).toISOString();
      now += 1;
      return instant;
    },
    today: () => new Date(now).toISOString().slice(0, 10),
    set(instant) {
      now = Date.parse(instant);
    },
  };
}

/** `id-1`, `id-2` …; another prefix for a second program on the same bench. */
export function countedIds(prefix = "id"): Ids {
  let count = 0;
  return {
    next() {
      count += 1;
      return `${prefix}-${count}`;
    },
  };
}
