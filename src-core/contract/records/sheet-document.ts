import { z } from "zod";
import { KeptAssessment } from "./assessment.ts";
import { Attachment } from "./attachment.ts";
import { CalibrationRecord } from "./calibration.ts";
import { CheckRecord } from "./check.ts";
import { Method } from "./method.ts";
import { Microscope, OpticalTrain } from "./microscope.ts";
import { OverdueUse } from "./overdue-use.ts";
import { Person } from "./person.ts";
import { Id, Instant } from "./primitives.ts";
import { Sheet, SpecimenRow, SupersededMeasurement } from "./sheet.ts";
import { SignOff } from "./sign-off.ts";
import { StageMicrometer } from "./stage-micrometer.ts";
import { TrailHead, TrailLine } from "./trail.ts";

export const SHEET_DOCUMENT_FORMAT = "linefall sheets";
/**
 * Version 2 added `earlier`, `signOffs` and `historySha256`, version 3 `cover` and `keptAt` of a stage micrometer,
 * version 4 the rule and pooled repeatability of a factor and what certificates say beyond U and k, version 5 the
 * `customer` of a sheet, version 6 the mark of a reset PIN on a signature and `trailHead`, version 7 `assessments` and
 * `checks`, version 8 `headSigned`, `overdueUses`, `pictures`, the finder-slide square and the sizes converted
 * elsewhere of a row, the amount tested of a sheet, size classes and formulas of a method; an older file is read as one
 * without them.
 */
export const SHEET_DOCUMENT_VERSION = 8;

const Sha256 = z.string().regex(/^[0-9a-f]{64}$/, "is not a SHA-256");

/** A result that was replaced, with the row it belonged to. */
export const ReplacedResult = SupersededMeasurement.extend({ rowId: Id });
export type ReplacedResult = z.infer<typeof ReplacedResult>;

/**
 * Results of the sheet's rows that were replaced, oldest first; and records that they, assessments and checks rest on and
 * the sheet itself does not.
 */
export const EarlierResults = z.strictObject({
  trains: z.array(OpticalTrain),
  calibrations: z.array(CalibrationRecord),
  stageMicrometers: z.array(StageMicrometer),
  results: z.array(ReplacedResult),
});
export type EarlierResults = z.infer<typeof EarlierResults>;

/** What was found of a calibration in the file, by which rule, against which factor before it. */
export const DocumentAssessment = KeptAssessment.extend({ calibrationId: Id });
export type DocumentAssessment = z.infer<typeof DocumentAssessment>;

/** One sheet with everything its results rest on, record by record as the bench keeps them. */
export const DocumentSheet = z.strictObject({
  sheet: Sheet,
  method: Method,
  people: z.array(Person),
  microscope: Microscope,
  trains: z.array(OpticalTrain),
  calibrations: z.array(CalibrationRecord),
  stageMicrometers: z.array(StageMicrometer),
  amendments: z.array(TrailLine),
  rows: z.array(SpecimenRow),
  /** SHA-256 of this sheet's data, as on the workbook's About sheet. */
  dataSha256: Sha256,
  earlier: EarlierResults.default({ trains: [], calibrations: [], stageMicrometers: [], results: [] }),
  /** Closings, reviews and signatures, newest first, also those that fell. */
  signOffs: z.array(SignOff).default([]),
  /** Of every calibration here, in the order in which they stand; newest first. */
  assessments: z.array(DocumentAssessment).default([]),
  /** Quick checks of those calibrations, newest first of each, also the withdrawn ones. */
  checks: z.array(CheckRecord).default([]),
  /** Pictures on the rows, newest first, also the withdrawn ones: named here, the files themselves lie elsewhere. */
  pictures: z.array(Attachment).default([]),
  /** What was used knowingly past its due date, for this sheet and for the calibrations here. */
  overdueUses: z.array(OverdueUse).default([]),
  /** SHA-256 of assessments, checks and overdue uses, made like the one of the data; null in versions before 7. */
  verdictsSha256: Sha256.nullable().default(null),
  /** SHA-256 of people, earlier results, sign-offs and pictures, made like the one of the data; null in version 1. */
  historySha256: Sha256.nullable().default(null),
});
export type DocumentSheet = z.infer<typeof DocumentSheet>;

/** Sheets as one JSON file. Its JSON Schema is derived from these types and published beside the file format. */
export const SheetDocument = z.strictObject({
  format: z.literal(SHEET_DOCUMENT_FORMAT),
  version: z.union([
    z.literal(1),
    z.literal(2),
    z.literal(3),
    z.literal(4),
    z.literal(5),
    z.literal(6),
    z.literal(7),
    z.literal(SHEET_DOCUMENT_VERSION),
  ]),
  program: z.strictObject({ name: z.string(), version: z.string() }),
  madeAt: Instant,
  /** How far the audit trail of the bench went; null in files before version 6. */
  trailHead: TrailHead.nullable().default(null),
  /** That head with its signature, or in words why it has none; null in files before version 8. */
  headSigned: z.string().nullable().default(null),
  sheets: z.array(DocumentSheet).min(1),
});
export type SheetDocument = z.infer<typeof SheetDocument>;
