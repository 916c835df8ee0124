import { z } from "zod";
import { CalibrationRecord } from "./calibration.ts";
import { Method } from "./method.ts";
import { Microscope, OpticalTrain } from "./microscope.ts";
import { Person } from "./person.ts";
import { Instant } from "./primitives.ts";
import { Sheet, SpecimenRow } from "./sheet.ts";
import { StageMicrometer } from "./stage-micrometer.ts";
import { TrailLine } from "./trail.ts";

export const SHEET_DOCUMENT_FORMAT = "linefall sheets";
export const SHEET_DOCUMENT_VERSION = 1;

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
  dataSha256: z.string().regex(/^[0-9a-f]{64}$/, "is not a SHA-256"),
});
export type DocumentSheet = z.infer<typeof DocumentSheet>;

/** Sheets as one JSON file. Its JSON Schema is derived from these types and published beside the file format. */
export const SheetDocument = z.strictObject({
  format: z.literal(SHEET_DOCUMENT_FORMAT),
  version: z.literal(SHEET_DOCUMENT_VERSION),
  program: z.strictObject({ name: z.string(), version: z.string() }),
  madeAt: Instant,
  sheets: z.array(DocumentSheet).min(1),
});
export type SheetDocument = z.infer<typeof SheetDocument>;
