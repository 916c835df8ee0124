import { z } from "zod";
import { Id, Instant, StoredDecimal, TypedNumber } from "./primitives.ts";

/** `fields`: some fields of one count, counted again. `slide`: a whole count made again in fields of its own. */
export const RECOUNT_KINDS = ["fields", "slide"] as const;

/** Counts of one field as typed, by category key. */
export const RecountEntry = z.strictObject({
  field: z.int().min(1),
  counts: z.record(z.string().max(20), TypedNumber),
  at: Instant,
  by: Id,
});

export const RecountComparison = z.strictObject({
  /** `total` or the key of a category. */
  of: z.string(),
  first: StoredDecimal,
  firstFields: z.int(),
  second: StoredDecimal,
  secondFields: z.int(),
  /** Exact p that both counts have one rate; null for half counts. */
  p: z.number().nullable(),
  differs: z.boolean().nullable(),
});

/** What the recount found, made when it is finished. */
export const RecountReport = z.strictObject({
  comparisons: z.array(RecountComparison),
  /** |√X₁ − √X₂| against 2.77·X̄·S_r/2; null without the laboratory's own S_r. */
  acceptance: z
    .strictObject({
      intracounterDeviation: StoredDecimal,
      difference: StoredDecimal,
      limit: StoredDecimal,
      accepted: z.boolean(),
    })
    .nullable(),
  sameCounter: z.boolean(),
  words: z.string(),
});
export type RecountReport = z.infer<typeof RecountReport>;

/** A recount; nothing of the first result is in it until it is finished. */
export const Recount = z.strictObject({
  id: Id,
  countId: Id,
  countNumber: z.string(),
  sample: z.string(),
  kind: z.enum(RECOUNT_KINDS),
  /** Share asked for, 0…1. */
  share: StoredDecimal,
  /** Fields drawn; empty for a whole slide. */
  fields: z.array(z.int()),
  plannedAt: Instant,
  plannedBy: Id,
  entries: z.array(RecountEntry),
  finishedAt: Instant.nullable(),
  finishedBy: Id.nullable(),
  report: RecountReport.nullable(),
});
export type Recount = z.infer<typeof Recount>;
