import { useEffect, useState, useSyncExternalStore } from "react";
import { RestClock } from "./rest-clock.ts";
import { type RestSettings, rememberedRest, rememberRest } from "./rest-settings.ts";

const MEMORY = { storage: localStorage, page: document };
/** How often the clock is looked at, ms. */
const LOOK_EVERY = 5000;

let settings: RestSettings | null = null;
const listeners = new Set<() => void>();

function present(): RestSettings {
  settings ??= rememberedRest(MEMORY);
  return settings;
}

export function changeRest(part: Partial<RestSettings>): void {
  settings = { ...present(), ...part };
  rememberRest(settings, MEMORY);
  for (const listener of listeners) listener();
}

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

export function useRestSettings(): RestSettings {
  return useSyncExternalStore(subscribe, present);
}

/** One for the window, so that going to another screen and back is no rest. */
const windowClock = new RestClock(() => Date.now());

/** Whether it is time to rest the eyes, from the keys pressed in this window. */
export function useRestDue(clock: RestClock = windowClock) {
  const { on, minutes } = useRestSettings();
  const [isDue, setDue] = useState(false);
  useEffect(() => {
    if (!on) {
      setDue(false);
      return undefined;
    }
    const look = (): void => setDue(clock.isDue(minutes));
    const work = (): void => clock.worked();
    const timer = setInterval(look, LOOK_EVERY);
    window.addEventListener("keydown", work, { capture: true });
    window.addEventListener("pointerdown", work, { capture: true });
    return () => {
      clearInterval(timer);
      window.removeEventListener("keydown", work, { capture: true });
      window.removeEventListener("pointerdown", work, { capture: true });
    };
  }, [clock, on, minutes]);
  const answer = (act: "rested" | "later"): void => {
    clock[act]();
    setDue(false);
  };
  return { isDue, minutes, rested: () => answer("rested"), later: () => answer("later") };
}
