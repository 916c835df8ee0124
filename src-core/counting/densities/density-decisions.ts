import type {
  CountCategory,
  CountMethodDefinition,
  DensityLimit,
} from "../../contract/records/count-method.ts";
import type { CountResults, DensityRecord } from "../../contract/records/count-results.ts";
import { Decimal, decimal, ZERO } from "../../quantity/decimal.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError, requireNotNegative } from "../../quantity/input-error.ts";
import {
  conformityPercent,
  conformityProbability,
  requireLimits,
  type ToleranceLimits,
} from "../../uncertainty/conformity.ts";
import type { DecisionRule } from "../../vocabulary/decision-rules.ts";

/** A density held against its limits. */
export interface DensityDecision {
  readonly limit: DensityLimit;
  readonly density: DensityRecord;
  /** Of the total or of the category. */
  readonly name: string;
  /** `at most 300 /container`. */
  readonly limits: string;
  readonly conforms: boolean;
  /** Of the true density, in words; null where the count is too small for a normal distribution. */
  readonly probability: string | null;
}

/** The limits as numbers. @throws InputError `<field>.lower` or `.upper` */
export function readLimits({ lower, upper }: DensityLimit, field: string): ToleranceLimits {
  const read = (side: "lower" | "upper", typed: string) =>
    typed.trim() === ""
      ? null
      : requireNotNegative(`${field}.${side}`, readDecimal(`${field}.${side}`, typed).value);
  const limits = { lower: read("lower", lower), upper: read("upper", upper) };
  try {
    requireLimits(limits);
  } catch (error) {
    if (error instanceof InputError) throw new InputError(`${field}.upper`, error.reason);
    throw error;
  }
  return limits;
}

/** Above this relative u a count is too skewed to speak of a normal distribution; a choice. */
const MOST_RELATIVE = 0.3;

/** A rule as it is printed beside a decision. */
export const DENSITY_RULE_WORDS: Readonly<Record<DecisionRule, string>> = {
  "simple-acceptance": "simple acceptance (JCGM 106:2012 8.2): the density lies within its limits",
  "guarded-acceptance":
    "guarded acceptance (JCGM 106:2012 8.3): the density lies within its limits by at least its U, or by the reach of the count’s own limits where that is more",
};

/** How far the density may lie off on each side: U, or the limits of the count where they reach further. */
function guards({ value, expanded, lower, upper, lessThan, relative }: DensityRecord): {
  readonly below: Decimal;
  readonly above: Decimal;
} {
  const y = decimal(value);
  const own = expanded === null ? ZERO : decimal(expanded);
  const reach = relative === null ? [upper, lessThan ?? "0"] : [upper];
  return {
    below: Decimal.max(own, y.minus(lower)),
    above: Decimal.max(own, ...reach.map((limit) => decimal(limit).minus(y))),
  };
}

function holds(record: DensityRecord, { lower, upper }: ToleranceLimits, rule: DecisionRule): boolean {
  const y = decimal(record.value);
  const isGuarded = rule === "guarded-acceptance";
  const { below, above } = isGuarded ? guards(record) : { below: ZERO, above: ZERO };
  return (
    (lower === null || y.minus(below).greaterThanOrEqualTo(lower)) &&
    (upper === null || y.plus(above).lessThanOrEqualTo(upper))
  );
}

function probabilityOf({ value, relative }: DensityRecord, limits: ToleranceLimits): string | null {
  if (relative === null || decimal(relative).greaterThan(MOST_RELATIVE)) return null;
  const u = decimal(relative).times(value);
  return u.greaterThan(0) ? conformityPercent(conformityProbability(decimal(value), u, limits)) : null;
}

function limitWords({ lower, upper }: ToleranceLimits, unit: string): string {
  if (lower === null) return `at most ${upper?.toFixed()} ${unit}`;
  return upper === null
    ? `at least ${lower.toFixed()} ${unit}`
    : `${lower.toFixed()} to ${upper.toFixed()} ${unit}`;
}

/**
 * Decisions on the densities of a count by the limits of its method, each on the last density given of the total or the
 * category (fibres/cc, not fibres/mm²). They follow from what was frozen and are not frozen themselves.
 */
export function densityDecisions(
  { densityLimits = [] }: Pick<CountMethodDefinition, "densityLimits">,
  categories: readonly CountCategory[],
  { densities }: Pick<CountResults, "densities">,
): readonly DensityDecision[] {
  return densityLimits.flatMap((limit, i) => {
    const density = densities.findLast(({ of }) => of === limit.of);
    if (!density) return [];
    const limits = readLimits(limit, `densityLimits.${i}`);
    return [
      {
        limit,
        density,
        name: categories.find(({ key }) => key === limit.of)?.name ?? "total",
        limits: limitWords(limits, density.unit),
        conforms: holds(density, limits, limit.rule),
        probability: probabilityOf(density, limits),
      },
    ];
  });
}

/** A decision in one sentence. */
export function decisionWords({ limits, conforms, probability, density, limit }: DensityDecision): string {
  const verdict = conforms ? "conforms" : "does not conform";
  const sure = probability === null ? "" : `; probability of conformity ${probability}`;
  return `${density.shown}; ${limits}: ${verdict} by ${DENSITY_RULE_WORDS[limit.rule]}${sure}`;
}
