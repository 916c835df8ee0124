import type { BudgetLine, FactorRecord } from "../contract/records/calibration.ts";
import { textOfDecimal } from "../quantity/decimal-text.ts";
import { type RoundingRule, reportWithUncertainty } from "../quantity/rounding.ts";
import type { BudgetComponent } from "../uncertainty/uncertainty.ts";
import { CALCULATION_RULE } from "../vocabulary/rules.ts";
import { pooledRecordOf } from "./calculation-basis.ts";
import type { CalibrationResult } from "./calibration.ts";

function budgetLine(component: BudgetComponent): BudgetLine {
  return {
    key: component.key,
    name: component.name,
    distribution: component.distribution,
    standardUncertainty: textOfDecimal(component.standardUncertainty),
    unit: component.unit,
    divisor: textOfDecimal(component.divisor),
    sensitivity: textOfDecimal(component.sensitivity),
    contribution: textOfDecimal(component.contribution),
    degreesOfFreedom: component.degreesOfFreedom && textOfDecimal(component.degreesOfFreedom),
    share: textOfDecimal(component.share),
    class: component.class,
  };
}

/**
 * A calibration's result as the text record that is frozen when it is put in force. All digits are kept; only
 * `shownFactor` and `shownUncertainty` are rounded (U to two significant digits, JCGM 100:2008 7.2.6).
 */
export function factorRecordOf(
  result: CalibrationResult,
  rounding: RoundingRule = "half-even",
): FactorRecord {
  const { uncertainty } = result;
  const shown = reportWithUncertainty(result.factor, uncertainty.expanded, rounding);
  return {
    factor: textOfDecimal(result.factor),
    meanOfRatios: textOfDecimal(result.meanOfRatios),
    standardUncertainty: textOfDecimal(uncertainty.standard),
    degreesOfFreedom: uncertainty.degreesOfFreedom && textOfDecimal(uncertainty.degreesOfFreedom),
    coverageFactor: textOfDecimal(uncertainty.coverageFactor),
    expandedUncertainty: textOfDecimal(uncertainty.expanded),
    commonUncertainty: textOfDecimal(result.commonUncertainty),
    occasionUncertainty: textOfDecimal(result.occasionUncertainty),
    residualDeviation: textOfDecimal(result.residualDeviation),
    relativeDeviation: result.relativeDeviation && textOfDecimal(result.relativeDeviation),
    span: textOfDecimal(result.span),
    budget: result.budget.map(budgetLine),
    shownFactor: shown.value,
    shownUncertainty: shown.uncertainty,
    ...(result.pooled ? { rule: CALCULATION_RULE, pooled: pooledRecordOf(result.pooled) } : {}),
  };
}
