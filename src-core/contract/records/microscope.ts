import { z } from "zod";
import { CalendarDate, Id, Instant, Name, OptionalLine, StoredDecimal } from "./primitives.ts";
import { optionalDecimal, typedCount, typedDecimal } from "./typed-number.ts";

export const IMMERSIONS = ["dry", "water", "glycerol", "oil"] as const;

/** When an objective left the turret, and which one took its position. */
export const ObjectiveReplaced = z.strictObject({ on: CalendarDate, by: Id });
export type ObjectiveReplaced = z.infer<typeof ObjectiveReplaced>;

export const Objective = z.strictObject({
  id: Id,
  microscopeId: Id,
  /** Place on the turret, 1… */
  position: z.int().min(1).max(12),
  magnification: StoredDecimal,
  numericalAperture: StoredDecimal.nullable(),
  immersion: z.enum(IMMERSIONS),
  serial: OptionalLine,
  /** Absent while it is on the turret. Its trains end on that day; what was measured with them stays. */
  replaced: ObjectiveReplaced.optional(),
});
export type Objective = z.infer<typeof Objective>;

export const Reticle = z.strictObject({
  id: Id,
  engraving: OptionalLine,
  scaleLengthMm: StoredDecimal,
  divisions: z.int().min(1).max(10000),
});
export type Reticle = z.infer<typeof Reticle>;

export const Eyepiece = z.strictObject({
  id: Id,
  microscopeId: Id,
  name: Name,
  magnification: StoredDecimal.nullable(),
  fieldNumber: StoredDecimal.nullable(),
  serial: OptionalLine,
  reticle: Reticle,
});
export type Eyepiece = z.infer<typeof Eyepiece>;

export const Microscope = z.strictObject({
  id: Id,
  name: Name,
  maker: OptionalLine,
  model: OptionalLine,
  serial: OptionalLine,
  /** True when the head keeps the tube length at every interpupillary distance. */
  headCompensated: z.boolean(),
  /** Intermediate magnifications the stand offers, `1` first. */
  intermediateMagnifications: z.array(StoredDecimal).min(1),
  /** By position; of those that had one position, the one that left first comes first. */
  objectives: z.array(Objective),
  eyepieces: z.array(Eyepiece),
  registeredAt: Instant,
});
export type Microscope = z.infer<typeof Microscope>;

// Each upper limit lies beyond every instrument: a larger figure has a slipped decimal mark or another unit.

export const NewObjective = z.strictObject({
  position: z
    .int("is not a turret position")
    .min(1, "is not a turret position")
    .max(12, "is not a turret position"),
  magnification: typedDecimal({ sign: "positive", most: 1000 }),
  /** Empty when not known. */
  numericalAperture: optionalDecimal({ sign: "positive", most: 2 }),
  immersion: z.enum(IMMERSIONS),
  serial: OptionalLine,
});

export const NewEyepiece = z.strictObject({
  name: Name,
  magnification: optionalDecimal({ sign: "positive", most: 100 }),
  /** mm. */
  fieldNumber: optionalDecimal({ sign: "positive", most: 50 }),
  serial: OptionalLine,
  reticle: z.strictObject({
    engraving: OptionalLine,
    scaleLengthMm: typedDecimal({ sign: "positive", most: 100 }),
    divisions: typedCount(10_000),
  }),
});

export const NewMicroscope = z.strictObject({
  name: Name,
  maker: OptionalLine,
  model: OptionalLine,
  serial: OptionalLine,
  headCompensated: z.boolean(),
  /** Settings of a changer, or the stops of a zoom, beside 1×; empty for a stand without either. */
  intermediateMagnifications: z
    .array(optionalDecimal({ sign: "positive", most: 10 }))
    .max(8, "can be at most eight beside 1×"),
  objectives: z.array(NewObjective).min(1, "needs at least one objective").max(12),
  eyepieces: z.array(NewEyepiece).min(1, "needs at least one eyepiece with its reticle").max(6),
});

/** The thing a factor belongs to: microscope + eyepiece + reticle + objective + intermediate magnification. */
export const OpticalTrain = z.strictObject({
  id: Id,
  microscopeId: Id,
  eyepieceId: Id,
  reticleId: Id,
  objectiveId: Id,
  intermediateMagnification: StoredDecimal,
  /** Reticle pitch / (objective × intermediate magnification), µm/div: a prediction, never used to convert. */
  nominalFactor: StoredDecimal,
});
export type OpticalTrain = z.infer<typeof OpticalTrain>;
