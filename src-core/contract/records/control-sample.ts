import { z } from "zod";
import { Id, Instant, Name, StoredDecimal, TypedNumber } from "./primitives.ts";

export const CONTROL_KINDS = ["blank", "recovery", "duplicate"] as const;
export type ControlKind = (typeof CONTROL_KINDS)[number];

/** What a count is for when its sample is no customer's: it shows how the method stands. */
export const ControlSample = z.discriminatedUnion("kind", [
  /** A sample that ought to hold nothing. */
  z.strictObject({ kind: z.literal("blank") }),
  /** A sample whose content is stated, or to which a stated number of objects was added. */
  z.strictObject({
    kind: z.literal("recovery"),
    /** `total` or the key of a category, such as that of marker spores. */
    of: z.string().max(20),
    /** What is stated: a number of objects in the whole sample, or a density in the unit of the count. */
    against: z.enum(["objects", "density"]),
    stated: TypedNumber,
    /** U (k = 2) of what is stated, in its unit; empty: taken as exact. */
    expanded: TypedNumber,
    /** Per cent of the sample that was looked at, for objects; empty: all of it. */
    portion: TypedNumber,
    /** Objects found in as much of the sample without the addition; empty: none were looked for. */
    background: TypedNumber,
    /** Who states it. */
    source: Name,
  }),
  /** The same sample as of another count, prepared and counted once more. */
  z.strictObject({ kind: z.literal("duplicate"), ofCountId: Id }),
]);
export type ControlSample = z.infer<typeof ControlSample>;
export type RecoverySample = Extract<ControlSample, { kind: "recovery" }>;

/** Limits of the laboratory's own or of a norm, as typed; empty: none. */
export const ControlLimits = z.strictObject({
  /** Objects in one field of a blank, at most. */
  blankUpper: TypedNumber,
  /** Recovery, %. */
  recoveryLower: TypedNumber,
  recoveryUpper: TypedNumber,
  /** Relative range of duplicates, %, at most. */
  duplicateUpper: TypedNumber,
  source: z.string().max(400),
});
export type ControlLimits = z.infer<typeof ControlLimits>;

const Ends = z.strictObject({ lower: StoredDecimal.nullable(), upper: StoredDecimal.nullable() });

/** One control sample of a series, with the limits that the earlier ones give. */
export const ControlPoint = z.strictObject({
  countId: Id,
  number: z.string(),
  sample: z.string(),
  closedAt: Instant,
  /** Objects per field of a blank, recovery or relative range, %. */
  value: StoredDecimal,
  /** 95 % limits of the value itself; null where none are given. */
  own: Ends.nullable(),
  /** Limits from the earlier results, in the unit of the value; null while there are too few. */
  limits: Ends.nullable(),
  /** How many earlier results the limits rest on. */
  earlier: z.int(),
  isBeyond: z.boolean(),
  isOutsideStated: z.boolean(),
  /** What the value is made of. */
  from: z.discriminatedUnion("kind", [
    z.strictObject({
      kind: z.literal("blank"),
      objects: StoredDecimal,
      fields: z.int(),
      /** Of the earlier ones together, those beyond their limits left out. */
      before: z.strictObject({ objects: StoredDecimal, fields: z.int() }),
      /** So many objects or more, given the earlier blanks, by chance; null for the first. */
      p: z.number().nullable(),
    }),
    z.strictObject({
      kind: z.literal("recovery"),
      name: z.string(),
      unit: z.string(),
      found: StoredDecimal,
      background: StoredDecimal,
      stated: StoredDecimal,
      /** Per cent. */
      portion: StoredDecimal,
      source: z.string(),
    }),
    z.strictObject({
      kind: z.literal("duplicate"),
      other: z.string(),
      unit: z.string(),
      first: StoredDecimal,
      second: StoredDecimal,
      /** Two counts of one and the same density differ so much, or more, by chance alone. */
      p: z.number().nullable(),
    }),
  ]),
});
export type ControlPoint = z.infer<typeof ControlPoint>;

export const ControlSeries = z.strictObject({
  kind: z.enum(CONTROL_KINDS),
  /** Of the method. */
  name: z.string(),
  unit: z.string(),
  /** Stated limits of the newest version of the method; null: none. */
  stated: Ends.nullable(),
  source: z.string(),
  /** Oldest first. */
  points: z.array(ControlPoint),
  /** Control samples that give no value, one sentence each. */
  without: z.array(z.string()),
  /** Objects cluster in some of the blanks or duplicates: chance by Poisson’s law is too small. */
  isClustered: z.boolean(),
});
export type ControlSeries = z.infer<typeof ControlSeries>;
