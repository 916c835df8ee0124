import type { Exercise } from "#core/practice/exercises/exercise.ts";
import { tenths } from "#core/practice/exercises/tenths.ts";
import type { View } from "#core/practice/view/render-view.ts";
import { reticleReading } from "#core/practice/view/scene.ts";
import { memberAt } from "#core/statistics/sample.ts";

/** What a task shows first. */
export function firstView({ task }: Exercise, seed: number, ordinal: number): View {
  return memberAt(task(seed, ordinal).looks, 0).view;
}

/** Where the line of each task stands, in divisions: taken from what is drawn, not from what is scored. */
export function trueReadings(seed: number): number[] {
  return Array.from({ length: tenths.tasks }, (_, index) => {
    const { optics, placing } = firstView(tenths, seed, index + 1);
    return reticleReading(optics, placing.xUm);
  });
}
