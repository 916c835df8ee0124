import type { REPORT_KINDS, TypedReadingConditions } from "#core/contract/records/method.ts";
import type { RoundingRule } from "#core/quantity/rounding.ts";
import type { CoverageRule } from "#core/vocabulary/calibration.ts";
import type { DecisionRule } from "#core/vocabulary/decision-rules.ts";
import type { EntryKind } from "#core/vocabulary/entry.ts";
import type { EdgeKind } from "#core/vocabulary/measurement.ts";
import type { EvidenceGrade } from "#core/vocabulary/provenance.ts";

export const COVERAGE_WORDS: Readonly<Record<CoverageRule, string>> = {
  t95: "95 % by Student's t",
  k2: "k = 2",
};

export const ROUNDING_WORDS: Readonly<Record<RoundingRule, string>> = {
  "half-even": "a tie goes to the even digit",
  "half-up": "a tie goes up",
};

export const EDGE_WORDS: Readonly<Record<EdgeKind, string>> = {
  "same-sense": "both edges shift the same way",
  independent: "each edge by itself",
  none: "left out",
};

export const END_WORDS: Readonly<Record<TypedReadingConditions["ends"], string>> = {
  points: "points",
  "parallel-edges": "parallel edges",
};

/** Name and unit of each reading condition, in the order of the form. */
export const CONDITION_WORDS = [
  { key: "smallestFraction", name: "Smallest fraction read", unit: "div" },
  { key: "repeatability", name: "Repeatability of one pair of readings", unit: "div" },
  { key: "repeatabilityDegreesOfFreedom", name: "Degrees of freedom of the repeatability", unit: "" },
  { key: "alignmentHalfAngle", name: "Largest angle between object and scale", unit: "°" },
  { key: "edgeHalfWidth", name: "Doubt where an edge lies, half-width", unit: "µm" },
  { key: "edgeDegreesOfFreedom", name: "Degrees of freedom of that doubt", unit: "" },
] as const satisfies readonly {
  key: keyof TypedReadingConditions;
  name: string;
  unit: string;
}[];

export const ENTRY_WORDS: Readonly<Record<EntryKind, string>> = {
  "two-edges": "both edges on the scale, left and right",
  direct: "the divisions themselves, one edge on a line",
};

export const REPORT_WORDS: Readonly<Record<(typeof REPORT_KINDS)[number], string>> = {
  none: "none",
  "mean and range": "mean ± s (min–max) of each dimension",
  "spore notation": "spore notation: (least–) percentile–percentile (–greatest), Q",
  "pollen P and E": "pollen: P, E and P/E with its shape class",
  "particle sizes": "particles: D[1,0], D[4,3], D[3,2] and percentiles by volume, as spheres",
  "grain size number": "grain size number G of the mean of the first dimension (ASTM E112)",
};

/** Definitions of a sample percentile by Hyndman and Fan 1996. */
export const PERCENTILE_WORDS = {
  "7": "type 7, as spreadsheets' PERCENTILE.INC",
  "6": "type 6, as the NIST/SEMATECH e-Handbook, 7.2.6.2",
} as const;

export const EVIDENCE_WORDS: Readonly<Record<EvidenceGrade, string>> = {
  published: "the source was read",
  "from memory": "cited from memory: look the clause up before you rely on it",
  "common practice": "common practice, no source",
  own: "set by the laboratory",
};

export const RULE_WORDS: Readonly<Record<DecisionRule, string>> = {
  "simple-acceptance": "simple acceptance: the value lies within the limits",
  "guarded-acceptance": "guarded acceptance: within the limits by at least U",
};
