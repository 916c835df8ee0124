import type { Microscope, Objective, OpticalTrain } from "../contract/records/microscope.ts";

/** An objective as people name it: `40×/0.65 oil`. */
export function objectiveWords(
  objective: Pick<Objective, "magnification" | "numericalAperture" | "immersion">,
) {
  const aperture = objective.numericalAperture ? `/${objective.numericalAperture}` : "";
  const immersion = objective.immersion === "dry" ? "" : ` ${objective.immersion}`;
  return `${objective.magnification}×${aperture}${immersion}`;
}

/** As `objectiveWords`, with the day on which it left the turret: two of a position are told apart. */
export function datedObjectiveWords(objective: Objective): string {
  const words = objectiveWords(objective);
  return objective.replaced ? `${words} (until ${objective.replaced.on})` : words;
}

/** What tells this train from others of the same objective; empty when the stand has no other. */
export function trainWords(microscope: Microscope, train: OpticalTrain): string {
  const parts: string[] = [];
  const left = microscope.objectives.find((one) => one.id === train.objectiveId)?.replaced;
  if (left) parts.push(`until ${left.on}`);
  if (microscope.eyepieces.length > 1) {
    const eyepiece = microscope.eyepieces.find((one) => one.id === train.eyepieceId);
    parts.push(`eyepiece ${eyepiece?.name ?? "not found"}`);
  }
  if (microscope.intermediateMagnifications.length > 1) {
    parts.push(`changer at ${train.intermediateMagnification}×`);
  }
  return parts.join(", ");
}

/** `40×/0.65 oil on Stand A`, in brackets what tells it from others of the same objective. */
export function trainName(train: OpticalTrain, microscope: Microscope): string {
  const objective = microscope.objectives.find((one) => one.id === train.objectiveId);
  const extra = trainWords(microscope, train);
  return `${objective ? objectiveWords(objective) : "?"} on ${microscope.name}${extra ? ` (${extra})` : ""}`;
}
