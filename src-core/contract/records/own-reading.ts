import { z } from "zod";
import { READING_SOURCES } from "../../vocabulary/reading-source.ts";
import { Id, StoredDecimal } from "./primitives.ts";
import { DimensionAgreement } from "./second-reading.ts";

/** Final digits 0 … 9 that a person read in one kind of work. */
const SourceDigits = z.strictObject({
  source: z.enum(READING_SOURCES),
  counts: z.array(z.int().min(0)).length(10),
  /** Readings of sheets that say nothing about a preference, by why; null: of this source none is tested. */
  leftOut: z.strictObject({ alike: z.int(), whole: z.int(), finer: z.int() }).nullable(),
});

/** One dimension of a closed second reading in which the person was one of two readers; own less other, µm. */
const OwnAgreement = DimensionAgreement.pick({
  dimension: true,
  n: true,
  bias: true,
  biasInterval: true,
  technicalError: true,
  p: true,
}).extend({
  secondReadingId: Id,
  sheetId: Id,
  sample: z.string(),
  number: z.int(),
  /** Who read it beside; the person’s own name where both readings are theirs. */
  other: z.string(),
  /** Bias in % of the mean size; null when that cannot be told. */
  biasPercent: StoredDecimal.nullable(),
});
export type OwnAgreement = z.infer<typeof OwnAgreement>;

/** How the person at the bench reads. Nobody else is shown it; it is derived when asked for and never stored. */
export const OwnReading = z.strictObject({
  personId: Id,
  digits: z.array(SourceDigits),
  /** Of the digits that can be tested; null while they are too few. */
  verdict: z
    .strictObject({
      n: z.int(),
      p: z.number(),
      uneven: z.boolean(),
      preferred: z.array(z.int().min(0).max(9)),
    })
    .nullable(),
  /** Newest first. */
  agreements: z.array(OwnAgreement),
});
export type OwnReading = z.infer<typeof OwnReading>;
