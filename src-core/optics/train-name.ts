import type { Microscope, Objective, OpticalTrain } from "../contract/records/microscope.ts";

/** An objective as people name it: `40×/0.65 oil`. */
export function objectiveWords(
  objective: Pick<Objective, "magnification" | "numericalAperture" | "immersion">,
) {
  const aperture = objective.numericalAperture ? `/${objective.numericalAperture}` : "";
  const immersion = objective.immersion === "dry" ? "" : ` ${objective.immersion}`;
  return `${objective.magnification}×${aperture}${immersion}`;
}

/** What tells this train from others of the same objective; empty when the stand has no other. */
export function trainWords(microscope: Microscope, train: OpticalTrain): string {
  const parts: string[] = [];
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
