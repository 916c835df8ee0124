import { z } from "zod";
import { Id, Instant, TypedNumber } from "./primitives.ts";

export const GLASSES = ["not said", "with", "without"] as const;

/** How a person's eyes stand at a train. Empty: not said. */
export const Eyes = z.strictObject({
  /** Setting of the eye lens of the reticle eyepiece, dioptres as typed, `-1.5` or `0.5`. */
  dioptre: TypedNumber,
  /** Reading of the scale on the eyepiece sleeve or draw tube, mm as typed: on some stands it sets the tube length. */
  sleeve: TypedNumber,
  glasses: z.enum(GLASSES),
});
export type Eyes = z.infer<typeof Eyes>;

/** What a person last said of them when confirming a train. */
export const EyesAtTrain = Eyes.extend({ personId: Id, trainId: Id, at: Instant });
export type EyesAtTrain = z.infer<typeof EyesAtTrain>;
