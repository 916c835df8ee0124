import { z } from "zod";
import { COUNT_RULES, DISPERSION_VERDICTS } from "../../vocabulary/counting.ts";
import { CATEGORY_KINDS, SUM_PARTS } from "./count-method.ts";
import { StoredDecimal } from "./primitives.ts";

/** One source of doubt of a density: u(x)/x with its sign, and its share of u_c², 0…1. */
export const DensityComponentRecord = z.strictObject({
  key: z.string(),
  name: z.string(),
  relative: StoredDecimal,
  share: StoredDecimal,
});

/**
 * A density as frozen. It is proportional to factor^power (−2 through an area, −1 through the width of a strip), so it
 * can be told under another factor: `densityUnderFactor`.
 */
export const DensityRecord = z.strictObject({
  /** `total` or the key of a category. */
  of: z.string(),
  unit: z.string(),
  value: StoredDecimal,
  /** What one counted object stands for. */
  perObject: StoredDecimal,
  /** Limits from the count alone, 95 %; by the rule of today from both counts where marker spores were counted. */
  lower: StoredDecimal,
  upper: StoredDecimal,
  /** u_c/value and U = k·u_c; null when nothing was counted. */
  relative: StoredDecimal.nullable(),
  expanded: StoredDecimal.nullable(),
  coverageFactor: StoredDecimal,
  basis: z.enum(["poisson", "between-fields"]),
  /** n − 1 of the scatter between n fields, where the count rests on it; left out: infinite, or closed by an earlier version. */
  degreesOfFreedom: z.int().optional(),
  components: z.array(DensityComponentRecord),
  /** null where no factor enters. */
  factor: z
    .strictObject({
      factor: StoredDecimal,
      standardUncertainty: StoredDecimal,
      power: z.int(),
    })
    .nullable(),
  /** As printed: the value with U, or “less than” the limit. Never a plain 0. */
  shown: z.string(),
  /** The limit behind “less than”; null when a value is shown. */
  lessThan: StoredDecimal.nullable(),
  /** Its class by the method's table, in words; null when the method has none. */
  class: z.string().nullable(),
});
export type DensityRecord = z.infer<typeof DensityRecord>;

/** Shares and limits are fractions, 0…1. */
export const ShareRecord = z.strictObject({
  proportion: z.number(),
  lower: z.number(),
  upper: z.number(),
  class: z.string().nullable(),
});

/** A category or a group of them against one sum; fractions of the sum, which exceed 1 outside it. */
export const SumLine = z.strictObject({
  of: z.enum(["category", "group"]),
  /** Key of the category, or name of the group. */
  key: z.string(),
  name: z.string(),
  part: z.enum(SUM_PARTS),
  count: StoredDecimal,
  proportion: z.number(),
  /** Exact 95 % limits. */
  lower: z.number(),
  upper: z.number(),
});
export type SumLine = z.infer<typeof SumLine>;

/** One sum of a count: its objects, and what it is made of. No lines while it is empty. */
export const SumResult = z.strictObject({
  name: z.string(),
  count: StoredDecimal,
  lines: z.array(SumLine),
});
export type SumResult = z.infer<typeof SumResult>;

export const CategoryResult = z.strictObject({
  category: z.string(),
  name: z.string(),
  kind: z.enum(CATEGORY_KINDS),
  /** Objects, halves and colonies included. */
  count: StoredDecimal,
  /** Key presses behind it, struck ones left out. */
  presses: z.int(),
  /** Share of the total; null for what is not part of it and while the total is zero. */
  share: ShareRecord.nullable(),
});
export type CategoryResult = z.infer<typeof CategoryResult>;

/** Limits as objects in the counted fields; `relative` is half the width over the total, null at zero. */
export const IntervalRecord = z.strictObject({
  lower: z.number(),
  upper: z.number(),
  relative: z.number().nullable(),
});

export const DispersionRecord = z.strictObject({
  fields: z.int(),
  mean: z.number(),
  variance: z.number(),
  ratio: z.number().nullable(),
  index: z.number().nullable(),
  degreesOfFreedom: z.int(),
  twoSidedP: z.number().nullable(),
  expectedLower: z.number(),
  expectedUpper: z.number(),
  by: z.enum(["chi-squared", "exact"]),
  verdict: z.enum(DISPERSION_VERDICTS),
  meaning: z.string(),
});

/** What a count says; the same for live totals on screen, for the frozen result and for verify. */
export const CountResults = z.strictObject({
  /** Which interval the count rests on; left out in counts closed by the earliest versions. */
  countRule: z.enum(COUNT_RULES).optional(),
  /** Objects of the total in the counted fields (for methods without fields: all). */
  total: StoredDecimal,
  /** Marker spores, likewise. */
  marker: StoredDecimal,
  /** Fields counted to their end; an empty field is one. */
  fields: z.int(),
  /** Objects of the total in the field in hand, not yet part of any density. */
  inHand: StoredDecimal,
  categories: z.array(CategoryResult),
  /** Left out where no category belongs to a sum. */
  sums: z.array(SumResult).exactOptional(),
  densities: z.array(DensityRecord),
  /** Why there is no density, and what to do; null when there is one or the method has none. */
  missing: z.string().nullable(),
  /** Area of one field, mm²; null when none enters. */
  fieldArea: StoredDecimal.nullable(),
  poisson: IntervalRecord,
  /** null below two counted fields. */
  betweenFields: IntervalRecord.nullable(),
  /** True when objects cluster, so that the Poisson interval misleads. */
  poissonSuppressed: z.boolean(),
  /** 2/√n, shown as optimistic; null at zero. */
  shortcut: z.number().nullable(),
  dispersion: DispersionRecord.nullable(),
  stopping: z.strictObject({
    met: z.boolean(),
    words: z.string(),
    missing: z.array(z.string()),
  }),
  /** For the wanted precision, a fraction; null when it cannot be said yet. */
  stillNeeded: z.strictObject({
    precision: z.number(),
    objects: z.int().nullable(),
    fields: z.int().nullable(),
  }),
  cautions: z.array(z.string()),
});
export type CountResults = z.infer<typeof CountResults>;
