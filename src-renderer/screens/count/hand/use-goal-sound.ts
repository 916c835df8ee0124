import { useEffect, useRef } from "react";
import type { CountResults } from "#core/contract/records/count-results.ts";
import { playTone, speak } from "../../../sound/window-sound.ts";

/** Says once, by tone and voice, that the stopping rule has been met; again only after it was open in between. */
export function useGoalSound({ stopping }: CountResults, counting: boolean): void {
  const before = useRef(stopping.met);
  useEffect(() => {
    if (counting && stopping.met && !before.current) {
      playTone("goal");
      speak("The stopping rule is met.");
    }
    before.current = stopping.met;
  }, [stopping.met, counting]);
}
