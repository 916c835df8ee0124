import { useEffect, useState } from "react";
import type { CallError } from "#core/contract/reply.ts";

export type Loaded<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly error: CallError };

export type Opened<T> =
  | { readonly state: "fetching" }
  | { readonly state: "refused"; readonly error: CallError }
  | { readonly state: "open"; readonly value: T };

export interface Opening<L, T> {
  /** Fetches what the record needs; may be asked for several times. */
  readonly load: () => Promise<Loaded<L>>;
  /** Takes what was fetched into use; null: it is out of date already, and is fetched again. */
  readonly open: (loaded: L) => T | null;
}

/**
 * A record being opened for work. What is open stays on screen while it is fetched again.
 * @param opening the same object from draw to draw, or the record is opened anew
 */
export function useOpened<L, T>(opening: Opening<L, T>): { readonly opened: Opened<T>; again(): void } {
  const [opened, setOpened] = useState<Opened<T>>({ state: "fetching" });
  const [attempt, setAttempt] = useState(0);
  const again = (): void => setAttempt((before) => before + 1);

  // biome-ignore lint/correctness/useExhaustiveDependencies: `attempt` asks again
  useEffect(() => {
    let isWanted = true;
    void opening.load().then((loaded) => {
      if (!isWanted) return;
      if (!loaded.ok) {
        setOpened({ state: "refused", error: loaded.error });
        return;
      }
      const value = opening.open(loaded.value);
      if (value === null) setAttempt((before) => before + 1);
      else setOpened({ state: "open", value });
    });
    return () => {
      isWanted = false;
    };
  }, [opening, attempt]);

  return { opened, again };
}
