import { type Decimal, ZERO } from "../quantity/decimal.ts";
import type { CoverageRule } from "../vocabulary/calibration.ts";
import { combine, combinedUncertainty } from "./combine.ts";
import { expandedOf } from "./coverage.ts";
import type { BudgetComponent, ComponentClass, Uncertainty } from "./uncertainty.ts";

/** One line of a budget before its share is known: what was put in, u(x), and ∂result/∂x. */
export interface BudgetEntry {
  readonly key: string;
  readonly name: string;
  readonly distribution: BudgetComponent["distribution"];
  readonly standardUncertainty: Decimal;
  readonly unit: string;
  readonly divisor: Decimal;
  readonly sensitivity: Decimal;
  readonly degreesOfFreedom: Decimal | null;
  readonly class: ComponentClass;
}

/** A budget with its combined uncertainty; the shares add up to 1 unless every contribution is zero. */
export interface ClosedBudget {
  readonly components: readonly BudgetComponent[];
  readonly uncertainty: Uncertainty;
}

/** Adds contributions, shares and the combined uncertainty to the lines of a budget. */
export function closeBudget(entries: readonly BudgetEntry[], rule: CoverageRule): ClosedBudget {
  const lines = entries.map((entry) => ({
    ...entry,
    contribution: entry.sensitivity.times(entry.standardUncertainty).abs(),
  }));
  const combined = combine(lines);
  const { variance } = combined;
  const components = lines.map((line) => ({
    ...line,
    share: variance.isZero() ? ZERO : line.contribution.times(line.contribution).div(variance),
  }));
  return { components, uncertainty: expandedOf(combined, rule) };
}

/** √Σ of the contributions of one class. */
export function classUncertainty(components: readonly BudgetComponent[], kind: ComponentClass): Decimal {
  return combinedUncertainty(components.filter((one) => one.class === kind));
}
