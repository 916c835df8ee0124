import { textOfPresses } from "#core/practice/exercises/count.ts";
import { countField } from "#core/practice/exercises/count-field.ts";
import type { Exercise } from "#core/practice/exercises/exercise.ts";
import { lineUp } from "#core/practice/exercises/line-up.ts";
import { calibratedTurret, measuredSpecimen } from "#core/practice/exercises/measured-specimen.ts";
import type { Press } from "#core/practice/exercises/press-matching.ts";
import { tenths } from "#core/practice/exercises/tenths.ts";
import { freeTruth } from "#core/practice/free-view.ts";
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

/** A setting of Line up as a perfect reader types it, the slide turned straight and otherwise left where it lay. */
export function trueSetting(seed: number, ordinal: number): Record<string, string> {
  const { optics, placing } = firstView(lineUp, seed, ordinal);
  const [from, to] = freeTruth(optics, { ...placing, turnedDeg: 0 }).span ?? [];
  return {
    reticleFrom: from?.divisions.toFixed(1) ?? "",
    lineFrom: String(from?.atUm),
    reticleTo: to?.divisions.toFixed(1) ?? "",
    lineTo: String(to?.atUm),
    turned: "0.0",
  };
}

/** A row of Measure as a perfect reader types it, with the 40× objective; the object's middle stays where it was drawn. */
export function trueRow(seed: number, ordinal: number): Record<string, string> {
  const { optics } = memberAt(calibratedTurret(seed), 2);
  const { lengthUm, placing } = measuredSpecimen(seed, ordinal);
  const at = (side: number): string =>
    reticleReading(optics, placing.xUm + (side * lengthUm.toNumber()) / 2).toFixed(1);
  return { objective: "40", from: at(-1), to: at(1), look: "40×" };
}

/** The presses of a perfect counter in a field: for each object that counts, with the line on its middle. */
export function truePresses(seed: number, ordinal: number): Record<string, string> {
  const presses = countField(seed, ordinal)
    .filter(({ counts }) => counts)
    .map(({ kind, specimen }): Press => ({ kind: kind === "2" ? "2" : "1", atUm: specimen.xUm }));
  return { presses: textOfPresses(presses) };
}
