import { type Decimal, decimal, ONE, ZERO } from "../quantity/decimal.ts";
import { InputError, requireNotNegative, requirePositive } from "../quantity/input-error.ts";
import { NIOSH_7400, WHO_FIBRES } from "../vocabulary/literature.ts";
import type { Provenance } from "../vocabulary/provenance.ts";
import { limitOf } from "./class-table.ts";

/** A limit and whether the limit itself still counts. */
export interface FibreLimit {
  /** Decimal text or an exact fraction. */
  readonly value: string;
  readonly inclusive: boolean;
}

/** What a counting method calls a countable fibre. Lengths in µm. */
export interface FibreRule extends Provenance {
  readonly id: string;
  readonly name: string;
  /** Longer than, along the curve of a curved fibre. */
  readonly length: FibreLimit;
  /** Thinner than; null: no limit. */
  readonly width: FibreLimit | null;
  /** Length to width at least. */
  readonly aspect: FibreLimit;
  /** `ends`: every end inside counts, and two of them are one fibre. */
  readonly counted: "fibres" | "ends";
  /** Share of the field covered by debris from which it is left out; `inclusive`: that share itself leaves it out. */
  readonly obscured: FibreLimit & { readonly standing: Provenance["standing"] };
}

const LONGER_THAN_5: FibreLimit = { value: "5", inclusive: false };
const THINNER_THAN_3: FibreLimit = { value: "3", inclusive: false };

export const NIOSH_7400_A: FibreRule = {
  id: "niosh-7400-a",
  name: "NIOSH 7400, A rules",
  source: `${NIOSH_7400}, A counting rules, as a public laboratory gives them`,
  standing: "published",
  length: LONGER_THAN_5,
  width: null,
  aspect: { value: "3", inclusive: true },
  counted: "fibres",
  obscured: { value: "1/6", inclusive: true, standing: "from memory" },
};

export const NIOSH_7400_B: FibreRule = {
  id: "niosh-7400-b",
  name: "NIOSH 7400, B rules",
  source: `${NIOSH_7400}, Appendix B`,
  standing: "from memory",
  length: LONGER_THAN_5,
  width: THINNER_THAN_3,
  aspect: { value: "5", inclusive: true },
  counted: "ends",
  obscured: { value: "1/6", inclusive: true, standing: "from memory" },
};

export const WHO_FIBRE_RULE: FibreRule = {
  id: "who-1997",
  name: "WHO 1997, HSG248",
  source: `${WHO_FIBRES}, 3.1.1; HSE: The analysts' guide, HSG248 (2005)`,
  standing: "published",
  length: LONGER_THAN_5,
  width: THINNER_THAN_3,
  aspect: { value: "3", inclusive: false },
  counted: "fibres",
  obscured: { value: "1/8", inclusive: false, standing: "published" },
};

export const FIBRE_RULES: readonly FibreRule[] = [NIOSH_7400_A, NIOSH_7400_B, WHO_FIBRE_RULE];

/** The rule with an id; null where none is named or known. */
export function fibreRuleOf(id: string | undefined): FibreRule | null {
  return FIBRE_RULES.find((rule) => rule.id === id) ?? null;
}

export interface FibreJudgement {
  readonly countable: boolean;
  /** Each condition that is not met, in words; empty when countable. */
  readonly reasons: readonly string[];
}

function reaches(order: number, inclusive: boolean): boolean {
  return inclusive ? order >= 0 : order > 0;
}

/**
 * Does an object count as a fibre under a rule? The comparison is exact: 5.1 × 1.7 µm is 3:1 and no more.
 * @param length,width µm
 * @throws InputError when a dimension is not greater than zero
 */
export function judgeFibre(length: Decimal, width: Decimal, rule: FibreRule): FibreJudgement {
  requirePositive("length", length);
  requirePositive("width", width);
  const reasons: string[] = [];
  const leastLength = limitOf("rule.length", rule.length.value);
  if (!reaches(length.comparedTo(leastLength), rule.length.inclusive)) {
    reasons.push(`length is not ${rule.length.inclusive ? "at least" : "more than"} ${rule.length.value} µm`);
  }
  if (rule.width) {
    const greatestWidth = limitOf("rule.width", rule.width.value);
    if (!reaches(greatestWidth.comparedTo(width), rule.width.inclusive)) {
      reasons.push(`width is not ${rule.width.inclusive ? "at most" : "less than"} ${rule.width.value} µm`);
    }
  }
  const leastForWidth = width.times(limitOf("rule.aspect", rule.aspect.value));
  if (!reaches(length.comparedTo(leastForWidth), rule.aspect.inclusive)) {
    reasons.push(
      `length to width is not ${rule.aspect.inclusive ? "at least" : "more than"} ${rule.aspect.value}:1`,
    );
  }
  return { countable: reasons.length === 0, reasons };
}

/** How a countable fibre lies to the edge of the counting area. */
export interface FibrePosition {
  readonly endsInside: 0 | 1 | 2;
  /** How often the fibre crosses the edge. */
  readonly crossings: number;
}

/**
 * What one countable fibre adds to the count: both ends inside 1, one end ½, crossing the edge more than once 0. Under
 * a rule that counts ends: half for each end inside, however often the fibre crosses.
 * @throws InputError when ends and crossings cannot go together
 */
export function countOfFibre(position: FibrePosition, rule: FibreRule): Decimal {
  const { endsInside, crossings } = position;
  if (!Number.isSafeInteger(crossings) || crossings < 0) {
    throw new InputError("crossings", "must be a whole number, 0 or more");
  }
  if ((crossings % 2 === 1) !== (endsInside === 1)) {
    throw new InputError("crossings", "must be odd when one end is inside, and even when both or none are");
  }
  if (rule.counted === "ends") return decimal(endsInside).div(2);
  if (crossings > 1) return ZERO;
  return endsInside === 2 ? ONE : decimal(endsInside).div(2);
}

/**
 * Must a field be left out because debris covers a share of it?
 * @param covered 0…1
 * @throws InputError when the share is outside 0…1
 */
export function fieldIsObscured(covered: Decimal, rule: FibreRule): boolean {
  requireNotNegative("covered", covered);
  if (covered.greaterThan(1)) throw new InputError("covered", "must not be more than 1, the whole field");
  const order = covered.comparedTo(limitOf("rule.obscured", rule.obscured.value));
  return reaches(order, rule.obscured.inclusive);
}

function limitWords(
  { value, inclusive }: FibreLimit,
  words: readonly [inclusive: string, beyond: string],
): string {
  return `${inclusive ? words[0] : words[1]} ${value}`;
}

/** A rule in sentences, as it is shown at the count and printed. */
export function fibreRuleWords({ length, width, aspect, counted, obscured }: FibreRule): readonly string[] {
  const more = ["at least", "more than"] as const;
  const slim = width ? `, ${limitWords(width, ["at most", "less than"])} µm wide` : "";
  return [
    `A fibre is ${limitWords(length, more)} µm long, along its curve${slim}, and ${limitWords(aspect, more)} times as long as wide.`,
    counted === "ends"
      ? "Each end inside the area is ½ fibre."
      : "Both ends inside the area: 1 fibre. One end inside: ½. No end inside, or crossing the edge more than once: 0.",
    `A field is left out when debris covers ${limitWords(obscured, ["", "more than"]).trim()}${obscured.inclusive ? " or more" : ""} of it.`,
  ];
}
