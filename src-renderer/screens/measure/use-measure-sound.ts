import { useEffect } from "react";
import type { GridStore } from "../../grid/grid-store.ts";
import { playTone, speak } from "../../sound/window-sound.ts";
import type { FindingsFeed } from "./findings/findings-feed.ts";
import { flagsToTell } from "./findings/flags-to-tell.ts";
import { cueOf } from "./measure-cues.ts";
import { objectiveById, type SheetContext } from "./sheet-context.ts";

/** Tells results, refusals and the objective by tone and, where the machine has a voice, in words. */
export function useMeasureSound(
  store: GridStore,
  context: SheetContext,
  findings: FindingsFeed | null,
): void {
  useEffect(() => {
    const wordsOf = (id: string): string => `${objectiveById(context, id)?.magnification ?? "?"} times`;
    let before = store.state();
    return store.subscribe(() => {
      const after = store.state();
      const cue = cueOf(before, after, wordsOf, (row, measured) =>
        findings ? flagsToTell(row, measured, findings.current()) : measured.flags,
      );
      before = after;
      if (!cue) return;
      playTone(cue.tone);
      if (cue.words !== null) speak(cue.words);
    });
  }, [store, context, findings]);
}
