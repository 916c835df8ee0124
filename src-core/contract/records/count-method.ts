import { z } from "zod";
import type { StoppingRule } from "../../vocabulary/counting.ts";
import { DECISION_RULES } from "../../vocabulary/decision-rules.ts";
import { EXERCISES } from "../../vocabulary/practice.ts";
import { EVIDENCE_GRADES } from "../../vocabulary/provenance.ts";
import { ControlLimits } from "./control-sample.ts";
import { Id, Instant, Name, Note, TypedNumber } from "./primitives.ts";

/**
 * What a category is to the result. `object`: part of the total. `marker`: added spores, counted beside. `aside`:
 * counted beside and never part of the total (honeydew elements). `doubtful`: recorded, to be looked at again, in no
 * result.
 */
export const CATEGORY_KINDS = ["object", "marker", "aside", "doubtful"] as const;

/** A `KeyboardEvent.code` such as `Numpad7` or `KeyA`: the place on the board, whatever its layout. */
export const KeyCode = z.string().regex(/^[A-Z][A-Za-z0-9]{1,24}$/, "is not a key of the keyboard");

/** The most categories of one list, method or count. */
export const MOST_CATEGORIES = 1000;

/**
 * What a category is to one sum. `in`: part of it, its percentage one of the whole. `of`: outside it, and given as
 * per cent of it all the same (aquatics of the land pollen sum).
 */
export const SUM_PARTS = ["in", "of"] as const;

/** One category and the key it lies under. `key` is stable and short: it names columns. */
export const CountCategory = z.strictObject({
  key: z.string().regex(/^[a-z][a-z0-9_]{0,19}$/, "must be a short lower-case word"),
  name: Name,
  /** Empty: no key of its own, found by its letters or its code. */
  keyCode: z.union([KeyCode, z.literal("")]),
  kind: z.enum(CATEGORY_KINDS),
  /** Half objects may be counted (a fibre with one end in the field, half a pine grain). */
  halves: z.boolean(),
  /** Decimals may be counted, to three places: lengths in units rather than objects; absent where they may not. */
  decimals: z.literal(true).optional(),
  /** The laboratory's short name for it, typed to find it; digits alone serve a hand on the keypad. */
  code: z
    .string()
    .regex(/^[\p{L}\p{N}][\p{L}\p{N}._-]{0,15}$/u, "must be up to 16 letters and digits")
    .exactOptional(),
  /** Trees and shrubs, diatoms …: its objects are also summed with the others of the group. */
  group: Name.exactOptional(),
  /** The sums it belongs to or is given as per cent of, each name once. */
  sums: z
    .array(z.strictObject({ name: Name, part: z.enum(SUM_PARTS) }))
    .min(1)
    .max(12)
    .exactOptional(),
  /** Objects of it that are enough: a stopping rule of its own beside the method's. */
  enough: z.int().min(1).max(1_000_000).exactOptional(),
  /** Set on what is counted beside the total: it gets its density and its share of the total all the same. */
  reported: z.literal(true).exactOptional(),
});
export type CountCategory = z.infer<typeof CountCategory>;

const provenance = { source: z.string().max(400), standing: z.enum(EVIDENCE_GRADES) };

/**
 * What one field is. The first three and `strip` take their lengths from the calibrated factor; `nominal` is a stated
 * area, mm²; `chamber-square` is ruled on the chamber; `whole` is a chamber or a share of it; `none` has no area.
 */
export const AreaBasis = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.enum(["circle", "square", "rectangle", "strip", "whole", "none"]) }),
  z.strictObject({ kind: z.literal("nominal"), area: TypedNumber, ...provenance }),
  z.strictObject({ kind: z.literal("chamber-square"), square: z.string().max(40) }),
]);
export type AreaBasis = z.infer<typeof AreaBasis>;

/** A chamber of the library by its id, or one of the laboratory's own with its dimensions, mm and mL as typed. */
export const ChamberChoice = z.discriminatedUnion("from", [
  z.strictObject({ from: z.literal("library"), chamberId: z.string().max(40) }),
  z.strictObject({
    from: z.literal("own"),
    name: Name,
    outline: z.discriminatedUnion("kind", [
      z.strictObject({ kind: z.literal("rectangle"), length: TypedNumber, width: TypedNumber }),
      z.strictObject({ kind: z.literal("circle"), diameter: TypedNumber }),
    ]),
    /** Empty: a settling chamber, where the settled volume counts. */
    depth: TypedNumber,
    squares: z.array(z.strictObject({ id: z.string().max(40), name: Name, area: TypedNumber })).max(12),
    ...provenance,
  }),
]);
export type ChamberChoice = z.infer<typeof ChamberChoice>;

/** A filter of the library, or an own one with its effective area, mm². */
export const FilterChoice = z.discriminatedUnion("from", [
  z.strictObject({ from: z.literal("library"), filterId: z.string().max(40) }),
  z.strictObject({ from: z.literal("own"), name: Name, effectiveArea: TypedNumber, ...provenance }),
]);
export type FilterChoice = z.infer<typeof FilterChoice>;

/** A drum of the library, or an own one: width of the trace, mm, and air drawn, L/min. */
export const DrumChoice = z.discriminatedUnion("from", [
  z.strictObject({ from: z.literal("library"), drumId: z.string().max(40) }),
  z.strictObject({
    from: z.literal("own"),
    name: Name,
    traceWidth: TypedNumber,
    airflow: TypedNumber,
    ...provenance,
  }),
]);
export type DrumChoice = z.infer<typeof DrumChoice>;

/** How a count becomes a density; its inputs are listed by `inputsAskedBy` in the counting core. */
export const DensityFormula = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("none") }),
  /** Per mm² of the area looked at. */
  z.strictObject({ kind: z.literal("per-area") }),
  /** Per mL of the original sample. */
  z.strictObject({ kind: z.literal("chamber"), chamber: ChamberChoice }),
  /** Fibres/mm² of filter and fibres/cc of air. */
  z.strictObject({ kind: z.literal("fibres"), filter: FilterChoice }),
  /** Particles per container, mL …, from a part of the filter that all of them lie on; `per` stands after the slash. */
  z.strictObject({ kind: z.literal("on-filter"), filter: FilterChoice, per: z.string().min(1).max(12) }),
  /** Grains per unit of sample, by marker spores; the unit is printed after the slash: `cm³`, `10 g`. */
  z.strictObject({ kind: z.literal("marker"), sampleUnit: z.string().min(1).max(12) }),
  /** Grains/m³ of air; one field is one line along the trace. */
  z.strictObject({ kind: z.literal("drum"), drum: DrumChoice }),
  z.strictObject({ kind: z.literal("mcmaster") }),
  z.strictObject({ kind: z.literal("kato-katz"), by: z.enum(["multiplier", "template"]) }),
]);
export type DensityFormula = z.infer<typeof DensityFormula>;

export const INPUT_KEYS = [
  "diameter",
  "side",
  "width",
  "height",
  "readingUncertainty",
  "share",
  "dilution",
  "dilutionUncertainty",
  "settledVolume",
  "settledVolumeUncertainty",
  "depthHalfWidth",
  "blankCount",
  "blankFields",
  "airVolume",
  "airVolumeUncertainty",
  "markerTablets",
  "sporesPerTablet",
  "sporesDeviation",
  "sampleSize",
  "sampleSizeUncertainty",
  "mass",
  "suspension",
  "readVolume",
  "template",
] as const;
export type InputKey = (typeof INPUT_KEYS)[number];

/** Inputs of area and density as typed; a key left out or empty was not typed. */
export const CountInputs = z.partialRecord(z.enum(INPUT_KEYS), TypedNumber);
export type CountInputs = z.infer<typeof CountInputs>;

const atLeast = z.number().positive().max(1e9);
/** When to stop, as data: the same shape as `StoppingRule` of the counting core, which checks it. */
export const StoppingRuleRecord: z.ZodType<StoppingRule> = z.lazy(() =>
  z.discriminatedUnion("kind", [
    z.strictObject({
      kind: z.literal("units"),
      atLeast,
      classes: z.array(z.string().max(20)).min(1).max(MOST_CATEGORIES).exactOptional(),
      of: Name.exactOptional(),
    }),
    z.strictObject({ kind: z.enum(["fields", "minutes", "marker"]), atLeast }),
    z.strictObject({
      kind: z.literal("interval"),
      relativeHalfWidth: z.number().positive().max(2),
      level: z.number().positive().lt(1),
    }),
    z.strictObject({ kind: z.enum(["all", "any"]), rules: z.array(StoppingRuleRecord).min(1).max(8) }),
  ]),
) as z.ZodType<StoppingRule>;

/** Class limits as data, in rising order; `requireClassTable` of the core checks them. */
export const ClassTableRecord = z.strictObject({
  id: z.string().max(60),
  name: Name,
  quantity: z.string().max(120),
  classes: z
    .array(
      z.strictObject({
        name: Name,
        from: z.string().max(40).nullable(),
        to: z.string().max(40).nullable(),
        fromClosed: z.boolean(),
        toClosed: z.boolean(),
      }),
    )
    .min(1)
    .max(30),
  source: z.string().max(400),
  standing: z.enum(EVIDENCE_GRADES),
});

/** Limits of a density of the total or of a category, in its unit as typed (empty: none), and the rule that decides. */
export const DensityLimit = z.strictObject({
  /** `total` or the key of a category. */
  of: z.string().max(20),
  lower: TypedNumber,
  upper: TypedNumber,
  rule: z.enum(DECISION_RULES),
});
export type DensityLimit = z.infer<typeof DensityLimit>;

export const CountMethodDefinition = z.strictObject({
  name: Name,
  categories: z.array(CountCategory).min(1, "needs at least one category").max(MOST_CATEGORIES),
  /** What one press stands for: cell, colony, grain, fibre, egg. */
  countingUnit: Name,
  area: AreaBasis,
  density: DensityFormula,
  /** Values offered when a count is opened; each may be changed there. */
  suggestedInputs: CountInputs,
  /** Id of an edge rule of the core; null where no object can lie across an edge. */
  edgeRuleId: z.string().max(40).nullable(),
  /** Id of a fibre rule of the core: what counts as a fibre; left out where nothing or none is named. */
  fibreRuleId: z.string().max(40).exactOptional(),
  stopping: z.strictObject({
    name: Name,
    rule: StoppingRuleRecord.nullable(),
    ...provenance,
  }),
  /** Classes of a category's share, per cent of the total. */
  shareClasses: ClassTableRecord.nullable(),
  /** Classes of the density. */
  densityClasses: ClassTableRecord.nullable(),
  /** Each of the last density given of the total or of a category; left out where there are none. */
  densityLimits: z.array(DensityLimit).min(1).max(12).exactOptional(),
  /** Limits for blanks, recoveries and duplicates; left out where none are stated. */
  controlLimits: ControlLimits.exactOptional(),
  /** Fewer objects than this are reported as “less than”; empty: only a count of zero is. */
  leastReportedObjects: TypedNumber,
  /** Precision wanted, as a fraction, for “n more fields”; empty: ± 10 %. */
  wantedPrecision: TypedNumber,
  cautions: z.array(z.string().max(400)).max(10),
  /** Exercises that whoever counts by it is to have shown; left out by methods that ask for none. */
  practice: z.array(z.enum(EXERCISES)).min(1).max(EXERCISES.length).exactOptional(),
  ...provenance,
  note: Note,
});
export type CountMethodDefinition = z.infer<typeof CountMethodDefinition>;

/** A count method never changes: a change makes the next version, and a count keeps the version it was counted under. */
export const CountMethod = z.strictObject({
  id: Id,
  /** Shared by the versions of one method. */
  familyId: Id,
  version: z.int().min(1),
  definition: CountMethodDefinition,
  definedAt: Instant,
  definedBy: Id,
});
export type CountMethod = z.infer<typeof CountMethod>;
