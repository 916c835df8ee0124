/** Counts the windows that are open, by the request each holds open, and says when the last one has gone. */
export interface Presence {
  arrive(): void;
  leave(): void;
  readonly open: number;
  /** Whether any window has ever arrived. */
  readonly seen: boolean;
  stop(): void;
}

export interface PresenceListener {
  onFirst(): void;
  /** No window has been there for the grace period after the last one left. */
  onEmpty(): void;
}

/** @param grace milliseconds a window may be away, so that reloading it does not end the program */
export function createPresence(grace: number, { onFirst, onEmpty }: PresenceListener): Presence {
  let open = 0;
  let seen = false;
  let waiting: NodeJS.Timeout | undefined;
  return {
    arrive() {
      open += 1;
      if (!seen) onFirst();
      seen = true;
      clearTimeout(waiting);
    },
    leave() {
      open -= 1;
      if (open === 0) waiting = setTimeout(onEmpty, grace);
    },
    get open() {
      return open;
    },
    get seen() {
      return seen;
    },
    stop: () => clearTimeout(waiting),
  };
}
