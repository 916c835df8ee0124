import { z } from "zod";
import { CERTIFICATE_SIGNS } from "../../vocabulary/calibration.ts";
import {
  CalendarDate,
  Id,
  Instant,
  Name,
  OptionalLine,
  Reason,
  StoredDecimal,
  TypedNumber,
} from "./primitives.ts";
import { decimalAsTyped, optionalDecimal, typedCount, typedDecimal } from "./typed-number.ts";

export const SUBSTRATES = ["soda-lime glass", "borosilicate glass", "fused silica", "other"] as const;

/** Whether the scale lies under a cover glass, for which most objectives are corrected (common practice, no source). */
export const SCALE_COVERS = ["under a cover glass", "uncovered"] as const;
export type ScaleCover = (typeof SCALE_COVERS)[number];

export const CertificateLine = z.strictObject({
  /** Nominal position, µm. */
  nominal: StoredDecimal,
  /** Certified − nominal, µm. */
  error: StoredDecimal,
  /** As typed from the certificate, in the certificate's own convention. */
  typedNominal: z.string(),
  typedValue: z.string(),
  /** U of this position, µm, where the certificate states one for each line: by its k. */
  expandedUncertainty: StoredDecimal.optional(),
});
export type CertificateLine = z.infer<typeof CertificateLine>;

export const Certificate = z.strictObject({
  id: Id,
  stageMicrometerId: Id,
  number: Name,
  laboratory: Name,
  accreditation: OptionalLine,
  calibratedOn: CalendarDate,
  /** The owner's due date and why that interval was chosen. */
  dueOn: CalendarDate,
  dueReason: Reason,
  /** Reference temperature of the certified values, °C. */
  temperature: StoredDecimal,
  sign: z.enum(CERTIFICATE_SIGNS),
  lines: z.array(CertificateLine).min(2),
  /** U of a certified interval, µm: a of U = a + b·L; with a U for each line, the largest of them. */
  expandedUncertainty: StoredDecimal,
  coverageFactor: StoredDecimal,
  /** b of U = a + b·L, µm per mm; absent where U does not depend on the length, or is stated for each line. */
  uncertaintyPerMm: StoredDecimal.optional(),
  /** Effective degrees of freedom of U; absent where the certificate states none. */
  degreesOfFreedom: StoredDecimal.optional(),
  registeredAt: Instant,
});
export type Certificate = z.infer<typeof Certificate>;

export const StageMicrometer = z.strictObject({
  id: Id,
  name: Name,
  serial: Name,
  maker: OptionalLine,
  scaleLengthUm: StoredDecimal,
  divisions: z.int().min(1).max(100000),
  substrate: z.enum(SUBSTRATES),
  /** Linear expansion, 1/K, and half-width of its doubt. */
  expansion: StoredDecimal,
  expansionHalfWidth: StoredDecimal,
  /** Absent where not recorded, as in records made before it was asked: their fingerprints stay. */
  cover: z.enum(SCALE_COVERS).optional(),
  /** Where it is kept: ISO/IEC 17025:2017, 6.4.13 d, the current location (from memory); absent where not recorded. */
  keptAt: OptionalLine.min(1).optional(),
  certificates: z.array(Certificate),
  registeredAt: Instant,
});
export type StageMicrometer = z.infer<typeof StageMicrometer>;

export const NewStageMicrometer = z.strictObject({
  name: Name,
  serial: Name,
  maker: OptionalLine,
  /** Length of the scale, mm. */
  scaleLengthMm: typedDecimal({ sign: "positive", most: 1000 }),
  divisions: typedCount(100_000),
  substrate: z.enum(SUBSTRATES),
  cover: z.enum(SCALE_COVERS).nullable().optional(),
  keptAt: OptionalLine.optional(),
});

/** U of an interval or a line, µm. */
export const STATED_U = { sign: "positive", most: 1000 } as const;

export const NewCertificate = z.strictObject({
  stageMicrometerId: Id,
  number: Name,
  laboratory: Name,
  accreditation: OptionalLine,
  calibratedOn: CalendarDate,
  dueOn: CalendarDate,
  dueReason: Reason,
  /** °C. */
  temperature: decimalAsTyped({ least: -50, most: 100 }),
  sign: z.enum(CERTIFICATE_SIGNS),
  /** Nominal position and certified value, µm, in rising order; `value` by the convention of `sign`. */
  lines: z
    .array(
      z.strictObject({
        nominal: TypedNumber,
        value: TypedNumber,
        /** U of the line, µm; empty for the line the others are counted from. Left out: U is stated for intervals. */
        expandedUncertainty: optionalDecimal(STATED_U).optional(),
      }),
    )
    .min(2, "needs at least two certified lines")
    .max(2000),
  /** Of an interval; empty where the lines have their own. */
  expandedUncertainty: optionalDecimal(STATED_U),
  coverageFactor: typedDecimal({ sign: "positive", most: 20 }),
  uncertaintyPerMm: optionalDecimal(STATED_U).optional(),
  degreesOfFreedom: optionalDecimal({ sign: "positive", most: 1_000_000 }).optional(),
});
