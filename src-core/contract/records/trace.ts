import { z } from "zod";
import { Attachment } from "./attachment.ts";
import { CalibrationRecord } from "./calibration.ts";
import { CheckRecord } from "./check.ts";
import { EquipmentEvent } from "./equipment-event.ts";
import { Method } from "./method.ts";
import { Microscope, OpticalTrain } from "./microscope.ts";
import { Person } from "./person.ts";
import { CalendarDate, Id, Instant, StoredDecimal } from "./primitives.ts";
import { CertificateReplacement } from "./service-state.ts";
import { Measurement, Sheet, SizeRecord, SpecimenRow, SupersededMeasurement } from "./sheet.ts";
import { CalibrationApproval, SheetSignOffs } from "./sign-off.ts";
import { Certificate, StageMicrometer } from "./stage-micrometer.ts";
import { TrailLine } from "./trail.ts";

/** One result with everything behind it, down to the laboratory that certified the micrometer. */
export const TraceChain = z.strictObject({
  asOf: Instant,
  sheet: Sheet,
  row: SpecimenRow,
  measurement: Measurement,
  dimensionName: z.string(),
  method: Method,
  microscope: Microscope,
  train: OpticalTrain,
  trainName: z.string(),
  signOffs: SheetSignOffs,
  /** Lines of the trail about this row, oldest first. */
  trail: z.array(TrailLine),
  /** Earlier results of this dimension, kept when it was amended or re-evaluated, oldest first. */
  earlierResults: z.array(SupersededMeasurement),
  /** null: there is no result, only divisions. */
  calibration: z
    .strictObject({
      record: CalibrationRecord,
      approval: CalibrationApproval,
      /** Its state at the instant of the last reading; `record.state` is its state now. */
      stateThen: CalibrationRecord.shape.state,
      attachments: z.array(Attachment),
      checks: z.array(CheckRecord),
    })
    .nullable(),
  micrometer: StageMicrometer.omit({ certificates: true }).nullable(),
  micrometerAttachments: z.array(Attachment),
  certificate: Certificate.nullable(),
  /** Set when a corrected certificate has taken its place. */
  certificateReplacement: CertificateReplacement.nullable(),
  certificateAttachments: z.array(Attachment),
  events: z.array(EquipmentEvent),
  /** Everybody named above. */
  people: z.array(Person),
});
export type TraceChain = z.infer<typeof TraceChain>;

/** A size that was converted elsewhere: where it came in, and no chain behind it. */
export const TraceElsewhere = z.strictObject({
  sheet: Sheet,
  row: SpecimenRow,
  dimensionName: z.string(),
  /** As it stood in the file, µm. */
  typed: z.string(),
  convertedBy: z.string(),
  /** Lines of the trail about this row, oldest first: the first names the file and its SHA-256. */
  trail: z.array(TrailLine),
  /** Everybody named in them. */
  people: z.array(Person),
});
export type TraceElsewhere = z.infer<typeof TraceElsewhere>;

export const TRACE_SUBJECTS = [
  "certificate",
  "stage micrometer",
  "microscope",
  "objective",
  "reticle",
  "calibration",
  "event",
] as const;
/** From what one looks forward. */
export const TraceSubject = z.strictObject({ kind: z.enum(TRACE_SUBJECTS), id: Id });
export type TraceSubject = z.infer<typeof TraceSubject>;

/**
 * What would take the place: another certificate of the same micrometer (each factor made with an earlier one is derived
 * again from its settings), or another calibration of the same train.
 */
export const Replacement = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("certificate"), certificateId: Id }),
  z.strictObject({ kind: z.literal("calibration"), calibrationId: Id }),
]);
export type Replacement = z.infer<typeof Replacement>;

/** Rows with a result that is not struck, by the day of their last reading (UTC); null: no limit. */
export const TraceScope = z.strictObject({
  subject: TraceSubject,
  from: CalendarDate.nullable(),
  to: CalendarDate.nullable(),
  replacement: Replacement.nullable(),
});
export type TraceScope = z.infer<typeof TraceScope>;

/** A calibration the subject reaches, with what the replacement makes of it. */
export const TouchedCalibration = z.strictObject({
  calibrationId: Id,
  trainId: Id,
  trainName: z.string(),
  state: CalibrationRecord.shape.state,
  startedAt: Instant,
  factor: StoredDecimal,
  expandedUncertainty: StoredDecimal,
  shownFactor: z.string(),
  shownUncertainty: z.string(),
  /** Results converted with it, in the scope. */
  results: z.int(),
  /** null: the replacement does not reach it. */
  replacement: z
    .strictObject({
      factor: StoredDecimal,
      expandedUncertainty: StoredDecimal,
      shownFactor: z.string(),
      shownUncertainty: z.string(),
      /** new/old − 1, the same for the factor and for every size converted with it. */
      relativeChange: StoredDecimal,
    })
    .nullable(),
  /** Why the replacement cannot be worked out for it, in words. */
  problem: z.string().nullable(),
});
export type TouchedCalibration = z.infer<typeof TouchedCalibration>;

export const TouchedSheet = z.strictObject({
  sheet: Sheet,
  signOff: SheetSignOffs.shape.state,
  /** Rows and results (one row may have several dimensions) in the scope. */
  rows: z.int(),
  results: z.int(),
  firstAt: Instant,
  lastAt: Instant,
  /** Of largest size; null without a replacement. */
  largestRelativeChange: StoredDecimal.nullable(),
});
export type TouchedSheet = z.infer<typeof TouchedSheet>;

export const ForwardTrace = z.strictObject({
  asOf: Instant,
  scope: TraceScope,
  /** The subject in words: `certificate C-1 of SM 1`. */
  subjectName: z.string(),
  replacementName: z.string().nullable(),
  counts: z.strictObject({ sheets: z.int(), rows: z.int(), results: z.int(), signedSheets: z.int() }),
  calibrations: z.array(TouchedCalibration),
  /** By number. */
  sheets: z.array(TouchedSheet),
});
export type ForwardTrace = z.infer<typeof ForwardTrace>;

/** One result in the scope; `after` and the differences are null without a replacement that reaches it. */
export const TouchedResult = z.strictObject({
  rowId: Id,
  ordinal: z.int(),
  label: z.string(),
  dimension: z.string(),
  measuredAt: Instant,
  divisions: StoredDecimal,
  calibrationId: Id,
  before: SizeRecord,
  after: SizeRecord.nullable(),
  /** after − before, µm, and relative to before (null for a size of zero). */
  difference: StoredDecimal.nullable(),
  relativeDifference: StoredDecimal.nullable(),
});
export type TouchedResult = z.infer<typeof TouchedResult>;

export const AffectedSheetsLetter = z.strictObject({
  title: z.string(),
  /** Plain text with line breaks, ready for a letter. */
  text: z.string(),
  /** RFC 4180, one line per sheet, with a heading line; a BOM so that spreadsheets read µ. */
  csv: z.string(),
  fileName: z.string(),
});
export type AffectedSheetsLetter = z.infer<typeof AffectedSheetsLetter>;
