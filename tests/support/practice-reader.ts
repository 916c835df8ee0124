import { tenths } from "#core/practice/exercises/tenths.ts";
import { reticleReading } from "#core/practice/view/scene.ts";

/** Where the line of each task stands, in divisions: taken from what is drawn, not from what is scored. */
export function trueReadings(seed: number): number[] {
  return Array.from({ length: tenths.tasks }, (_, index) => {
    const { optics, placing } = tenths.task(seed, index + 1).view;
    return reticleReading(optics, placing.xUm);
  });
}
