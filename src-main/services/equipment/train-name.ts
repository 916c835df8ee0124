import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";

/** `40×/0.65 on Stand A`, with the intermediate magnification where it is not 1 and the eyepiece where there are several. */
export function trainName(train: OpticalTrain, microscope: Microscope): string {
  const objective = microscope.objectives.find((one) => one.id === train.objectiveId);
  const eyepiece = microscope.eyepieces.find((one) => one.id === train.eyepieceId);
  const aperture = objective?.numericalAperture ? `/${objective.numericalAperture}` : "";
  const step = train.intermediateMagnification === "1" ? "" : ` at ${train.intermediateMagnification}×`;
  const through = microscope.eyepieces.length > 1 && eyepiece ? ` with ${eyepiece.name}` : "";
  return `${objective?.magnification ?? "?"}×${aperture}${step}${through} on ${microscope.name}`;
}
