/** The time, as the records write it. Supplied by the host; tests supply a fixed one. */
export interface Clock {
  /** Now in UTC, ISO 8601 with milliseconds. */
  now(): string;
  /** Today's date where the bench stands, ISO 8601. */
  today(): string;
}

function two(value: number): string {
  return String(value).padStart(2, "0");
}

/** The clock of this machine. */
export const systemClock: Clock = {
  now: () => new Date().toISOString(),
  today: () => {
    const now = new Date();
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  },
};
