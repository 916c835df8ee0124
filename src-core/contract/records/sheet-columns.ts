import { z } from "zod";
import { FLAG_KEYS } from "../../vocabulary/flag.ts";
import { Id, StoredDecimal } from "./primitives.ts";

/** Rows of a sheet by column; row i of each list has the ordinal from + i. */
export const SheetColumns = z.strictObject({
  total: z.int(),
  from: z.int(),
  /** Number of rows here. */
  count: z.int(),
  /** Labels that occur here, each once. */
  labels: z.array(z.string()),
  /** Index into `labels` of each row. */
  label: z.array(z.int()),
  /** Ordinals of struck rows. */
  struck: z.array(z.int()),
  /** By dimension: the size of each row, µm with all digits; null where there is none. */
  sizes: z.record(z.string(), z.array(StoredDecimal.nullable())),
  /** Sets of flags that occur here, each once. */
  flagSets: z.array(z.array(z.enum(FLAG_KEYS))),
  /** By dimension: index into `flagSets` of each row; null where nothing is measured. */
  flags: z.record(z.string(), z.array(z.int().nullable())),
  /** The factors that sizes here were converted with, each once. */
  factors: z.array(
    z.strictObject({
      calibrationId: Id,
      /** u(f)/f. */
      relativeUncertainty: StoredDecimal,
      /** Null: infinite. */
      degreesOfFreedom: StoredDecimal.nullable(),
    }),
  ),
  /** By dimension: index into `factors` of each size; null where there is none. */
  factor: z.record(z.string(), z.array(z.int().nullable())),
});
export type SheetColumns = z.infer<typeof SheetColumns>;

/** What a label measured on other sheets of the same method: limits to about 2 %, which a band needs no better. */
export const LabelHistory = z.strictObject({
  /** The label without its running number. */
  label: z.string(),
  dimension: z.string(),
  n: z.int(),
  /** The smallest and the greatest size, µm. */
  least: StoredDecimal,
  greatest: StoredDecimal,
  /** 2.5th, 50th and 97.5th percentile, µm. */
  low: StoredDecimal,
  median: StoredDecimal,
  high: StoredDecimal,
});
export type LabelHistory = z.infer<typeof LabelHistory>;
