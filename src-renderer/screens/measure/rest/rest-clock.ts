/** A pause without a key as long as this ends work at the eyepiece, ms. Common practice, no source. */
export const AWAY = 3 * 60_000;
/** How long “later” puts it off, ms. */
export const LATER = 5 * 60_000;

/**
 * How long somebody has worked without a rest. It asks no clock of its own: `now` gives milliseconds from any origin, so
 * that a test can let an hour pass.
 */
export class RestClock {
  readonly #now: () => number;
  /** Since when without a rest; null: nobody is at work. */
  #since: number | null = null;
  #last = 0;
  #notBefore = 0;

  constructor(now: () => number) {
    this.#now = now;
  }

  /** A key was pressed. */
  worked(): void {
    const now = this.#now();
    // A shorter pause is no rest: the eyes may be at the eyepiece all the while.
    if (this.#since === null || now - this.#last >= AWAY) this.#begin(now);
    this.#last = now;
  }

  #begin(now: number | null): void {
    this.#since = now;
    this.#notBefore = 0;
  }

  /** Whether it is time to rest after so many minutes of work. */
  isDue(minutes: number): boolean {
    const now = this.#now();
    if (this.#since === null || now - this.#last >= AWAY) return false;
    return now - this.#since >= minutes * 60_000 && now >= this.#notBefore;
  }

  /** The eyes have rested: work begins anew with the next key. */
  rested(): void {
    this.#begin(null);
  }

  /** Not now. */
  later(): void {
    this.#notBefore = this.#now() + LATER;
  }
}
