import { z } from "zod";
import { Id, Instant, Note, OptionalLine, StoredDecimal } from "./primitives.ts";
import { Measurement, StagePosition } from "./sheet.ts";

/** Which rows are read a second time. */
export const SecondReadingChoice = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("rows"), rowIds: z.array(Id).min(1).max(1000) }),
  /** Drawn from the rows with a complete reading that are not struck. */
  z.strictObject({ kind: z.literal("count"), count: z.int().min(1).max(1000) }),
  z.strictObject({ kind: z.literal("share"), percent: z.int().min(1).max(100) }),
]);
export type SecondReadingChoice = z.infer<typeof SecondReadingChoice>;

/** One row as the second reader sees it: where it is, never what was read. */
export const SecondReadingRow = z.strictObject({
  rowId: Id,
  ordinal: z.int(),
  label: OptionalLine,
  stage: StagePosition.nullable(),
  /** Dimensions to read, each with the train it was first read with. */
  dimensions: z.array(z.strictObject({ dimension: z.string(), trainId: Id })),
  /** The second reader's own readings. */
  measurements: z.array(Measurement),
});
export type SecondReadingRow = z.infer<typeof SecondReadingRow>;

const Limits = z.strictObject({ lower: StoredDecimal, upper: StoredDecimal });

/** How the two readers agree in one dimension, µm: second − first. */
export const DimensionAgreement = z.strictObject({
  dimension: z.string(),
  n: z.int(),
  bias: StoredDecimal,
  biasInterval: Limits,
  deviation: StoredDecimal,
  limits: Limits,
  technicalError: StoredDecimal,
  /** A pure number; null when the mean is zero. */
  relativeTechnicalError: StoredDecimal.nullable(),
  /** Of Student’s test of the bias. */
  p: z.number(),
});
export type DimensionAgreement = z.infer<typeof DimensionAgreement>;

/** What comes to light when a second reading is closed. */
export const AgreementReport = z.strictObject({
  dimensions: z.array(DimensionAgreement),
  pairs: z.array(
    z.strictObject({
      rowId: Id,
      ordinal: z.int(),
      dimension: z.string(),
      first: StoredDecimal,
      second: StoredDecimal,
      difference: StoredDecimal,
    }),
  ),
  /** Rows and dimensions chosen that have no pair of sizes, in words. */
  leftOut: z.array(z.string()),
});
export type AgreementReport = z.infer<typeof AgreementReport>;

export const SecondReading = z.strictObject({
  id: Id,
  sheetId: Id,
  /** 1, 2, 3 … of its sheet. */
  number: z.int(),
  state: z.enum(["open", "closed"]),
  choice: SecondReadingChoice,
  startedAt: Instant,
  reader: Id,
  /** True when the reader also took first readings of the rows chosen. */
  sameReader: z.boolean(),
  note: Note,
  rowCount: z.int(),
  /** Rows with every dimension read. */
  readCount: z.int(),
  closedAt: Instant.nullable(),
  closedBy: Id.nullable(),
});
export type SecondReading = z.infer<typeof SecondReading>;
