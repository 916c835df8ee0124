import type { BudgetLine, FactorRecord } from "../contract/records/calibration.ts";
import { type Decimal, decimal, ONE, rootSumOfSquares } from "../quantity/decimal.ts";
import { textOfDecimal } from "../quantity/decimal-text.ts";
import { requirePositive } from "../quantity/input-error.ts";
import {
  formatToPlaces,
  type RoundingRule,
  reportWithUncertainty,
  roundToPlaces,
} from "../quantity/rounding.ts";
import { coverageFactor } from "../uncertainty/coverage.ts";
import type { CoverageRule } from "../vocabulary/calibration.ts";

/** A factor rounded because a laboratory's procedure asks for it, kept beside the exact one and never instead of it. */
export interface WorkingFactor {
  readonly exact: Decimal;
  readonly working: Decimal;
  /** (working − exact)/exact: what every size would be off by. */
  readonly relativeError: Decimal;
}

/**
 * The rounded working factor and the error it brings: 10/7 rounded to 1.4 makes every size 2 % too small.
 * @param places digits after the point
 * @throws InputError `factor`, or `places` when nothing is left of the factor
 */
export function workingFactor(
  exact: Decimal,
  places: number,
  rule: RoundingRule = "half-even",
): WorkingFactor {
  requirePositive("factor", exact);
  const working = requirePositive("places", roundToPlaces(exact, places, rule));
  return { exact, working, relativeError: working.minus(exact).div(exact) };
}

/** The line that the rounding adds to a budget: a known difference, taken as a standard uncertainty of its own size. */
function roundingLine(difference: Decimal, { working, exact }: WorkingFactor, places: number): BudgetLine {
  return {
    key: "working",
    name: `Rounding to the working factor ${formatToPlaces(working, places)} (exact ${exact.toSignificantDigits(7).toFixed()})`,
    distribution: "known difference",
    standardUncertainty: textOfDecimal(difference.abs()),
    unit: "µm/div",
    divisor: textOfDecimal(ONE),
    sensitivity: textOfDecimal(ONE),
    contribution: textOfDecimal(difference.abs()),
    degreesOfFreedom: null,
    share: textOfDecimal(decimal(0)),
    class: "common",
  };
}

/**
 * A factor record with the rounded working factor in the place of the exact one. The difference δ is known and not
 * corrected, so it enters as u² + δ² (JCGM 100:2008 F.2.4.5, from memory), infinite in its degrees of freedom and common
 * to every size: ν = ν₀·(u/u₀)⁴ by Welch and Satterthwaite. U then covers the exact factor at 95 % and more, whatever δ is.
 * @throws InputError as `workingFactor`
 */
export function withWorkingFactor(exact: FactorRecord, places: number, coverage: CoverageRule): FactorRecord {
  const rounded = workingFactor(decimal(exact.factor), places);
  const difference = rounded.working.minus(rounded.exact);
  const before = decimal(exact.standardUncertainty);
  const standard = rootSumOfSquares([before, difference]);
  const freedom =
    exact.degreesOfFreedom === null || before.isZero()
      ? null
      : decimal(exact.degreesOfFreedom).times(standard.div(before).pow(4));
  const k = coverageFactor(coverage, freedom);
  const expanded = standard.times(k);
  const square = standard.times(standard);
  const lines = [...exact.budget, roundingLine(difference, rounded, places)];
  return {
    ...exact,
    factor: textOfDecimal(rounded.working),
    standardUncertainty: textOfDecimal(standard),
    degreesOfFreedom: freedom && textOfDecimal(freedom),
    coverageFactor: textOfDecimal(k),
    expandedUncertainty: textOfDecimal(expanded),
    commonUncertainty: textOfDecimal(rootSumOfSquares([decimal(exact.commonUncertainty), difference])),
    budget: lines.map((line) => ({
      ...line,
      share: textOfDecimal(square.isZero() ? decimal(0) : decimal(line.contribution).pow(2).div(square)),
    })),
    shownFactor: formatToPlaces(rounded.working, places),
    shownUncertainty: reportWithUncertainty(rounded.working, expanded, "half-even").uncertainty,
    working: {
      places,
      factor: exact.factor,
      standardUncertainty: exact.standardUncertainty,
      expandedUncertainty: exact.expandedUncertainty,
      commonUncertainty: exact.commonUncertainty,
      shown: `${exact.shownFactor} ± ${exact.shownUncertainty}`,
    },
  };
}

/** The exact factor of a record: what a check or a history compares with. */
export function exactFactorOf(
  record: FactorRecord,
): Pick<FactorRecord, "factor" | "standardUncertainty" | "occasionUncertainty"> {
  const { occasionUncertainty, working } = record;
  const { factor, standardUncertainty } = working ?? record;
  return { factor, standardUncertainty, occasionUncertainty };
}

/** ` (working factor, exact 10.101 ± 0.013)`; nothing beside an exact one. */
export function workingWords({ working }: Pick<FactorRecord, "working">): string {
  return working ? ` (working factor of the procedure; exact ${working.shown} µm/div)` : "";
}
