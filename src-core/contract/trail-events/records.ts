import { z } from "zod";
import { KeptAssessment } from "../records/assessment.ts";
import { Sha256 } from "../records/attachment.ts";
import { CalibrationRecord, FactorRecord } from "../records/calibration.ts";
import { CheckRecord } from "../records/check.ts";
import { Correction } from "../records/correction.ts";
import { Method } from "../records/method.ts";
import { Microscope, OpticalTrain } from "../records/microscope.ts";
import { OverdueUse } from "../records/overdue-use.ts";
import { Person } from "../records/person.ts";
import { Id } from "../records/primitives.ts";
import { ReadIn } from "../records/read-in.ts";
import { Sheet, SpecimenRow } from "../records/sheet.ts";
import { SignOff } from "../records/sign-off.ts";
import { Certificate, StageMicrometer } from "../records/stage-micrometer.ts";
import { SigningTold } from "../records/trail-signature.ts";
import { RowStateTold } from "./sheets.ts";

const Corrected = Correction.pick({ field: true, before: true, after: true });

/** The reading-in that a record came with. */
const FROM_FILE = { readIn: Id };
/** Numbers of the results that were replaced before, and the hash over them. */
const Replaced = z.strictObject({ first: z.int(), last: z.int(), sha256: Sha256 });

/** Words put right, backups set back, and records that came in a file. */
export const RECORD_DETAILS = {
  "records.correct": {
    person: Corrected,
    microscope: Corrected,
    objective: Corrected,
    eyepiece: Corrected,
    stage_micrometer: Corrected,
    sheet: Corrected,
    count: Corrected,
  },
  "backups.restore": {
    bench: z.strictObject({
      fileName: z.string(),
      madeAt: z.string(),
      /** By name; null where the bench before did not open. */
      by: z.string().nullable(),
      keptAside: z.string(),
    }),
  },
  "trail.changeSigning": { bench: SigningTold },
  "documents.readIn": {
    read_in: ReadIn.omit({ id: true, readAt: true, readBy: true }),
    person: Person.omit({ id: true }).extend(FROM_FILE),
    microscope: Microscope.extend({ trains: z.array(OpticalTrain), ...FROM_FILE }),
    stage_micrometer: StageMicrometer.omit({ certificates: true }).extend(FROM_FILE),
    certificate: Certificate.extend(FROM_FILE),
    method: Method.extend(FROM_FILE),
    calibration: CalibrationRecord.omit({ result: true }).extend({
      factor: FactorRecord.shape.factor.nullable(),
      expandedUncertainty: FactorRecord.shape.expandedUncertainty.nullable(),
      pooled: FactorRecord.shape.pooled,
      /** Oldest first; absent where the file had none. */
      assessments: z.array(KeptAssessment).optional(),
      ...FROM_FILE,
    }),
    calibration_check: CheckRecord.extend(FROM_FILE),
    overdue_use: OverdueUse.omit({ id: true }).extend(FROM_FILE),
    specimen_row: RowStateTold.extend({
      ...SpecimenRow.pick({ sheetId: true, ordinal: true, label: true, note: true, stage: true }).shape,
      struckAs: SpecimenRow.shape.struck,
      ...FROM_FILE,
    }),
    sheet: Sheet.extend({
      dataSha256: Sha256,
      amendments: z.strictObject({ count: z.int(), sha256: Sha256 }),
      superseded: Replaced.nullable(),
      signOffs: z.array(SignOff),
      ...FROM_FILE,
    }),
  },
} as const;
