import { useEffect, useState } from "react";
import { useOwnSettings } from "../../../window/own-settings.ts";
import { RestClock } from "./rest-clock.ts";

/** How often the clock is looked at, ms. */
const LOOK_EVERY = 5000;

/** One for the window, so that going to another screen and back is no rest. */
const windowClock = new RestClock(() => Date.now());

/** Whether it is time to rest the eyes, from the keys pressed in this window. */
export function useRestDue(clock: RestClock = windowClock) {
  const { on, minutes } = useOwnSettings().rest;
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
