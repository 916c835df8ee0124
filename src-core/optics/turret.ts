import type { Microscope, Objective, OpticalTrain } from "../contract/records/microscope.ts";

/** The objectives that are on the turret now, by their positions. */
export function objectivesOnTurret(objectives: readonly Objective[]): Objective[] {
  return objectives.filter((one) => one.replaced === undefined).sort((a, b) => a.position - b.position);
}

/** The objectives that left the turret, the last one first. */
export function objectivesReplaced(objectives: readonly Objective[]): Objective[] {
  return objectives
    .filter((one) => one.replaced !== undefined)
    .sort((a, b) => (b.replaced?.on ?? "").localeCompare(a.replaced?.on ?? "") || a.position - b.position);
}

/** Whether a train has ended because its objective left the turret. */
export function isEnded(
  train: Pick<OpticalTrain, "objectiveId">,
  { objectives }: Pick<Microscope, "objectives">,
) {
  return objectives.some((one) => one.id === train.objectiveId && one.replaced !== undefined);
}
