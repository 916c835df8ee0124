import { type Decimal, decimal, ONE, sumOf, TWO } from "../quantity/decimal.ts";
import {
  InputError,
  requireCount,
  requireFinite,
  requireNotNegative,
  requirePositive,
} from "../quantity/input-error.ts";
import { type BudgetEntry, closeBudget } from "../uncertainty/budget.ts";
import { cosineTerm, fromResolution, ROOT_3, ROOT_12, ROOT_45, rectangular } from "../uncertainty/type-b.ts";
import type { FactorInForce, ReadingConditions, SizeInput, SizeResult } from "./size.ts";

/** Largest angle for which the small-angle terms hold to the digits shown, degrees. */
const LARGEST_ANGLE = 20;

/**
 * Checks the inputs of a size's budget.
 * @throws InputError `reading.<key>`
 */
export function requireReadingConditions(conditions: ReadingConditions): void {
  requireNotNegative("reading.smallestFraction", conditions.smallestFraction);
  requireNotNegative("reading.repeatability", conditions.repeatability);
  requireNotNegative("reading.edgeHalfWidth", conditions.edgeHalfWidth);
  const angle = requireNotNegative("reading.alignmentHalfAngle", conditions.alignmentHalfAngle);
  if (angle.greaterThan(LARGEST_ANGLE)) {
    throw new InputError(
      "reading.alignmentHalfAngle",
      `must be at most ${LARGEST_ANGLE} degrees: turn the eyepiece instead`,
    );
  }
  for (const key of ["repeatabilityDegreesOfFreedom", "edgeDegreesOfFreedom"] as const) {
    const nu = conditions[key];
    if (nu !== null) requirePositive(`reading.${key}`, nu);
  }
}

/** @throws InputError `factor.<key>` */
export function requireFactor(factor: FactorInForce): void {
  requirePositive("factor.factor", factor.factor);
  requireNotNegative("factor.standardUncertainty", factor.standardUncertainty);
  if (factor.degreesOfFreedom !== null) requirePositive("factor.degreesOfFreedom", factor.degreesOfFreedom);
}

interface Repeats {
  readonly mean: Decimal;
  readonly standardUncertainty: Decimal;
  readonly divisor: Decimal;
  readonly degreesOfFreedom: Decimal | null;
}

/**
 * Mean of the repeats and u of it. A single reading takes the person's known standard deviation; several take their own
 * s/√n (JCGM 100:2008 4.2.3), but not less than the known one gives: a few readings agree too well by chance.
 */
function repeatsOf(divisions: readonly Decimal[], conditions: ReadingConditions): Repeats {
  const n = divisions.length;
  const mean = sumOf(divisions).div(n);
  const divisor = n === 1 ? ONE : decimal(n).sqrt();
  const known = {
    mean,
    divisor,
    standardUncertainty: conditions.repeatability.div(divisor),
    degreesOfFreedom: conditions.repeatabilityDegreesOfFreedom,
  };
  if (n === 1) return known;
  const deviation = sumOf(divisions.map((one) => one.minus(mean).pow(2)))
    .div(n - 1)
    .sqrt();
  if (conditions.repeatability.greaterThan(deviation)) return known;
  return { mean, divisor, standardUncertainty: deviation.div(divisor), degreesOfFreedom: decimal(n - 1) };
}

/** The one or two lines for the doubt where an edge lies; both edges the same way count with c = 2. */
function edgeEntries(conditions: ReadingConditions): BudgetEntry[] {
  if (conditions.edgeKind === "none") return [];
  const edge = {
    distribution: "rectangular",
    standardUncertainty: rectangular(conditions.edgeHalfWidth),
    unit: "µm",
    divisor: ROOT_3,
    degreesOfFreedom: conditions.edgeDegreesOfFreedom,
  } as const;
  if (conditions.edgeKind === "same-sense") {
    return [
      { key: "edges", name: "Where the edges lie, both alike", ...edge, sensitivity: TWO, class: "common" },
    ];
  }
  return [
    { key: "edge-left", name: "Where the left edge lies", ...edge, sensitivity: ONE, class: "occasion" },
    { key: "edge-right", name: "Where the right edge lies", ...edge, sensitivity: ONE, class: "occasion" },
  ];
}

/**
 * The size of an object in µm from its reticle divisions: d = f·(N + q_L + q_R)·(1 + κ) + edges, with u(d) by
 * JCGM 100:2008 5.1. An angle between object and scale makes the reading of two points too short (1 + θ²/2) and that
 * of two parallel edges too long (1 − θ²/2). The reading at either end is not divided by √n.
 *
 * In the budget `common` marks what is shared by all objects measured with this factor.
 * @throws InputError `divisions`, `divisions.N`, `factor.<key>` or `reading.<key>`
 */
export function sizeOfDivisions(input: SizeInput): SizeResult {
  const { divisions, factor, conditions, coverage } = input;
  requireCount("divisions", divisions, 1);
  divisions.forEach((one, i) => {
    requireFinite(`divisions.${i}`, one);
    if (one.lessThan(0)) {
      throw new InputError(
        `divisions.${i}`,
        "must not be negative: the right edge lies left of the left one",
      );
    }
  });
  requireFactor(factor);
  requireReadingConditions(conditions);

  const repeats = repeatsOf(divisions, conditions);
  const cosine = cosineTerm(conditions.alignmentHalfAngle);
  const correction = conditions.ends === "points" ? cosine.mean : cosine.mean.negated();
  const aligned = correction.plus(1);
  const perDivision = factor.factor.times(aligned);
  const reading = {
    distribution: "rectangular",
    standardUncertainty: fromResolution(conditions.smallestFraction),
    unit: "div",
    divisor: ROOT_12,
    sensitivity: perDivision,
    degreesOfFreedom: null,
    class: "occasion",
  } as const;
  const entries: BudgetEntry[] = [
    {
      key: "factor",
      name: "Factor of the train",
      distribution: "normal",
      standardUncertainty: factor.standardUncertainty,
      unit: "µm/div",
      divisor: ONE,
      sensitivity: repeats.mean.times(aligned),
      degreesOfFreedom: factor.degreesOfFreedom,
      class: "common",
    },
    {
      key: "repeatability",
      name:
        divisions.length === 1 && conditions.repeatabilitySource
          ? `Repeatability of one reading (${conditions.repeatabilitySource})`
          : "Repeatability of the reading",
      distribution: "t",
      standardUncertainty: repeats.standardUncertainty,
      unit: "div",
      divisor: repeats.divisor,
      sensitivity: perDivision,
      degreesOfFreedom: repeats.degreesOfFreedom,
      class: "occasion",
    },
    { key: "reading-left", name: "Reading at the left edge", ...reading },
    { key: "reading-right", name: "Reading at the right edge", ...reading },
    {
      key: "alignment",
      name: "Angle between object and scale",
      distribution: "skewed",
      standardUncertainty: cosine.standardUncertainty,
      unit: "1",
      divisor: ROOT_45,
      sensitivity: factor.factor.times(repeats.mean),
      degreesOfFreedom: null,
      class: "occasion",
    },
    ...edgeEntries(conditions),
  ];
  const budget = closeBudget(entries, coverage);
  return {
    divisions: repeats.mean,
    size: perDivision.times(repeats.mean),
    budget: budget.components,
    uncertainty: budget.uncertainty,
  };
}
