import { z } from "zod";
import { COVERAGE_RULES, FACTOR_ESTIMATORS } from "../../vocabulary/calibration.ts";
import { CHOSEN_REPEATABILITIES, REPEATABILITY_ORIGINS } from "../../vocabulary/repeatability-origin.ts";
import { CALCULATION_RULE } from "../../vocabulary/rules.ts";
import { CalendarDate, Id, Instant, Note, Reason, StoredDecimal, TypedNumber } from "./primitives.ts";

export const CALIBRATION_STATES = ["draft", "in force", "superseded", "withdrawn"] as const;
export type CalibrationState = (typeof CALIBRATION_STATES)[number];

/** One setting as typed: reticle readings in divisions, micrometer lines as line numbers counted from 0. */
export const TypedSetting = z.strictObject({
  reticleLeft: TypedNumber,
  reticleRight: TypedNumber,
  lineLeft: TypedNumber,
  lineRight: TypedNumber,
});
export type TypedSetting = z.infer<typeof TypedSetting>;

/** The inputs of the budget as typed; every one has a stated default and may be set to 0. */
export const TypedConditions = z.strictObject({
  temperature: TypedNumber,
  temperatureHalfWidth: TypedNumber,
  expansion: TypedNumber,
  expansionHalfWidth: TypedNumber,
  micrometerDriftHalfWidth: TypedNumber,
  alignmentHalfAngle: TypedNumber,
  fieldDistortionHalfWidth: TypedNumber,
  trainHalfWidth: TypedNumber,
  trainDoubt: TypedNumber,
  smallestFraction: TypedNumber,
  /** Taken where there is one setting only, because somebody asked for it; left out by all others. */
  repeatability: z.enum(CHOSEN_REPEATABILITIES).optional(),
});
export type TypedConditions = z.infer<typeof TypedConditions>;
/** Those that are numbers. */
export type NumericCondition = Exclude<keyof TypedConditions, "repeatability">;

export const BudgetLine = z.strictObject({
  key: z.string(),
  name: z.string(),
  distribution: z.enum(["normal", "rectangular", "skewed", "t", "known difference"]),
  standardUncertainty: StoredDecimal,
  unit: z.string(),
  divisor: StoredDecimal,
  sensitivity: StoredDecimal,
  contribution: StoredDecimal,
  degreesOfFreedom: StoredDecimal.nullable(),
  share: StoredDecimal,
  class: z.enum(["common", "occasion"]),
});
export type BudgetLine = z.infer<typeof BudgetLine>;

/** How well one setting repeats, as learnt from calibrations before: s of both edges together, div. */
export const PooledRecord = z.strictObject({
  deviation: StoredDecimal,
  degreesOfFreedom: StoredDecimal,
  origin: z.enum(REPEATABILITY_ORIGINS),
  /** How many calibrations, specimens read repeatedly, or attempts at practice it was pooled from. */
  calibrations: z.int().min(0),
});
export type PooledRecord = z.infer<typeof PooledRecord>;

/** The factor as frozen when the calibration was put in force. All µm/div. */
export const FactorRecord = z.strictObject({
  factor: StoredDecimal,
  meanOfRatios: StoredDecimal,
  standardUncertainty: StoredDecimal,
  /** null: infinite. */
  degreesOfFreedom: StoredDecimal.nullable(),
  coverageFactor: StoredDecimal,
  expandedUncertainty: StoredDecimal,
  commonUncertainty: StoredDecimal,
  occasionUncertainty: StoredDecimal,
  residualDeviation: StoredDecimal,
  relativeDeviation: StoredDecimal.nullable(),
  span: StoredDecimal,
  budget: z.array(BudgetLine),
  /** As shown on screen and paper, by the rounding rule named in the record. */
  shownFactor: z.string(),
  shownUncertainty: z.string(),
  /** Absent in records of rule 1, which knew no pooled repeatability: their fingerprints stay. */
  rule: z.literal(CALCULATION_RULE).optional(),
  pooled: PooledRecord.optional(),
  /** Set where a procedure asks for a rounded working factor: the exact one beside it, with its own uncertainties. */
  working: z
    .strictObject({
      /** Digits after the point. */
      places: z.int().min(0).max(6),
      factor: StoredDecimal,
      standardUncertainty: StoredDecimal,
      expandedUncertainty: StoredDecimal,
      commonUncertainty: StoredDecimal,
      shown: z.string(),
    })
    .optional(),
});
export type FactorRecord = z.infer<typeof FactorRecord>;

export const CalibrationRecord = z.strictObject({
  id: Id,
  trainId: Id,
  stageMicrometerId: Id,
  certificateId: Id,
  personId: Id,
  state: z.enum(CALIBRATION_STATES),
  startedAt: Instant,
  settings: z.array(TypedSetting),
  conditions: TypedConditions,
  estimator: z.enum(FACTOR_ESTIMATORS),
  coverage: z.enum(COVERAGE_RULES),
  remark: Note,
  /** null while a draft. */
  result: FactorRecord.nullable(),
  /** The calibration's own due date, set when put in force. */
  dueOn: CalendarDate.nullable(),
  inForceAt: Instant.nullable(),
  inForceBy: Id.nullable(),
  /** When it was superseded or withdrawn, by whom and why. */
  endedAt: Instant.nullable(),
  endedBy: Id.nullable(),
  endReason: z.string().nullable(),
});
export type CalibrationRecord = z.infer<typeof CalibrationRecord>;

/** What a list needs of a calibration: a record in full is ten times as large. */
export const CalibrationSummary = CalibrationRecord.pick({
  id: true,
  trainId: true,
  stageMicrometerId: true,
  certificateId: true,
  state: true,
  startedAt: true,
  dueOn: true,
  inForceAt: true,
}).extend({
  /** How many settings have been typed. */
  settings: z.int(),
  /** As in `FactorRecord`; null while a draft. */
  shownFactor: z.string().nullable(),
  shownUncertainty: z.string().nullable(),
});
export type CalibrationSummary = z.infer<typeof CalibrationSummary>;

export const NewCalibration = z.strictObject({ trainId: Id, stageMicrometerId: Id, certificateId: Id });

export const CalibrationDraft = z.strictObject({
  calibrationId: Id,
  settings: z.array(TypedSetting).max(200),
  conditions: TypedConditions,
  estimator: z.enum(FACTOR_ESTIMATORS),
  coverage: z.enum(COVERAGE_RULES),
  remark: Note,
});

export const PutInForce = z.strictObject({
  calibrationId: Id,
  dueOn: CalendarDate,
  reason: Reason,
  /** Digits after the point of the working factor that a procedure asks for; null: the exact factor is put in force. */
  workingPlaces: z
    .int("must be a whole number")
    .min(0, "must be from 0 to 6")
    .max(6, "must be from 0 to 6")
    .nullable()
    .default(null),
});
