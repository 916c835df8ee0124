import type { StandKey } from "./registers.ts";

/** Days ago on which the door stand came back from its service. */
export const SERVICE_DAYS_AGO = 290;
/** Where the history of the bench begins. */
export const HISTORY_DAYS = 545;

/** A train of the bench: its stand, the number of its eyepiece (0 or 1) and the turret position of its objective. */
export interface TrainPlace {
  readonly stand: StandKey;
  readonly eyepiece: 0 | 1;
  readonly position: number;
}

/** The trains whose factor does something a person should notice. */
export const DRIFTING: TrainPlace = { stand: "window", eyepiece: 0, position: 4 };
export const JUMPING: TrainPlace = { stand: "door", eyepiece: 0, position: 3 };
export const DRIFT_OVER_HISTORY = 0.013;
export const JUMP_AT_SERVICE = -0.016;

/** What the optics really do, relative to the engraving, by stand and turret position. */
const ENLARGEMENT: Readonly<Record<StandKey, Readonly<Record<number, number>>>> = {
  window: { 2: 1.008, 3: 1.0065, 4: 1.0055, 5: 1.011 },
  door: { 1: 0.9935, 3: 0.9952 },
};
const MAGNIFICATION: Readonly<Record<StandKey, Readonly<Record<number, number>>>> = {
  window: { 2: 10, 3: 20, 4: 40, 5: 100 },
  door: { 1: 10, 3: 40 },
};
/** Pitch of the two reticles of either stand, µm; the fine ones are a little short. */
const PITCH = [100, 49.93] as const;

export function sameTrain(a: TrainPlace, b: TrainPlace): boolean {
  return a.stand === b.stand && a.eyepiece === b.eyepiece && a.position === b.position;
}

/** The factor that the train really has on a day, µm/div: known to the scenario only, never to the program. */
export function trueFactor(place: TrainPlace, daysAgo: number): number {
  const magnification = MAGNIFICATION[place.stand][place.position];
  const enlargement = ENLARGEMENT[place.stand][place.position];
  if (magnification === undefined || enlargement === undefined) {
    throw new RangeError(
      `The demo bench has no objective at position ${place.position} of the ${place.stand} stand.`,
    );
  }
  const still = (PITCH[place.eyepiece] / magnification) * enlargement;
  if (sameTrain(place, DRIFTING)) {
    return still * (1 + (DRIFT_OVER_HISTORY * (HISTORY_DAYS - daysAgo)) / HISTORY_DAYS);
  }
  if (sameTrain(place, JUMPING) && daysAgo < SERVICE_DAYS_AGO) return still * (1 + JUMP_AT_SERVICE);
  return still;
}
