import type { CountMethodDefinition } from "../../contract/records/count-method.ts";
import type { DensityRecord } from "../../contract/records/count-results.ts";
import { classify, wordsOf } from "../../methods/class-table.ts";
import type { Decimal } from "../../quantity/decimal.ts";
import { readDecimal, textOfDecimal } from "../../quantity/decimal-text.ts";
import type { UncertainProduct } from "../../quantity/uncertain-product.ts";
import type { CountRule } from "../../vocabulary/counting.ts";
import type { AreaFactor } from "../areas/counting-area.ts";
import { roundStable } from "../intervals/count-checks.ts";
import type { CountEvidence } from "../intervals/count-evidence.ts";
import { type Density, type DensityComponent, type DensityCoverage, densityOf } from "./density.ts";
import { reportDensity } from "./reported-density.ts";

/** What the densities of one count have in common. */
export interface DensityFrame {
  readonly definition: CountMethodDefinition;
  readonly factor: AreaFactor | null;
  readonly factorPower: number;
  readonly countRule: CountRule;
}

/** k = 2 belongs to the older rule of counts. */
export function coverageRuleOf({ countRule }: DensityFrame): DensityCoverage {
  return countRule === "clustered-only" ? "k2" : "t95";
}

/** Whether limits may be printed in place of ±: where the scatter between fields makes them, by the rule of today. */
export function mayBeSkewed({ basis }: Pick<CountEvidence, "basis">, { countRule }: DensityFrame): boolean {
  return basis === "between-fields" && countRule === "skewed-limits";
}

/** ν of the count, kept where it is finite: the coverage factor under another factor follows from it. */
export function degreesOfRecord(
  { degreesOfFreedom }: CountEvidence,
  { countRule }: DensityFrame,
): Pick<DensityRecord, "degreesOfFreedom"> {
  return degreesOfFreedom === null || countRule === "clustered-only" ? {} : { degreesOfFreedom };
}

export function componentRecords(components: readonly DensityComponent[]): DensityRecord["components"] {
  return components.map(({ key, name, relative, share }) => ({
    key,
    name,
    relative: textOfDecimal(relative),
    share: textOfDecimal(share),
  }));
}

export function factorOfRecord({ factor, factorPower }: DensityFrame): DensityRecord["factor"] {
  if (!factor || factorPower === 0) return null;
  return {
    factor: textOfDecimal(factor.factor),
    standardUncertainty: textOfDecimal(factor.standardUncertainty),
    power: factorPower,
  };
}

/** The class of a density by the method's table, in words. */
export function densityClass({ definition }: DensityFrame, value: Decimal): string | null {
  return definition.densityClasses ? wordsOf(classify(value, definition.densityClasses)) : null;
}

function limitOfReport({ definition }: DensityFrame, density: Density): { limitOfDetection?: Decimal } {
  const typed = definition.leastReportedObjects.trim();
  if (typed === "") return {};
  const objects = readDecimal("leastReportedObjects", typed).value;
  return objects.greaterThan(0) ? { limitOfDetection: density.perObject.times(objects) } : {};
}

/** A density as it is frozen: count × what one object stands for, with its limits, its U and how it is printed. */
export function densityRecord(
  of: string,
  evidence: CountEvidence,
  perObject: UncertainProduct,
  frame: DensityFrame,
): DensityRecord {
  const steadied = {
    ...evidence,
    lower: roundStable(evidence.lower),
    upper: roundStable(evidence.upper),
  };
  const density = densityOf(steadied, perObject, coverageRuleOf(frame));
  const report = reportDensity(density, {
    rounding: "half-even",
    symmetric: frame.countRule === "clustered-only",
    skewed: mayBeSkewed(evidence, frame),
    ...limitOfReport(frame, density),
  });
  return {
    of,
    unit: density.unit,
    value: textOfDecimal(density.value),
    perObject: textOfDecimal(density.perObject),
    lower: textOfDecimal(density.lower),
    upper: textOfDecimal(density.upper),
    relative: density.relative ? textOfDecimal(density.relative) : null,
    expanded: density.expanded ? textOfDecimal(density.expanded) : null,
    coverageFactor: textOfDecimal(density.coverageFactor),
    basis: evidence.basis,
    ...degreesOfRecord(evidence, frame),
    components: componentRecords(density.components),
    factor: factorOfRecord(frame),
    shown: report.text,
    lessThan: report.kind === "less-than" ? textOfDecimal(report.limit) : null,
    class: densityClass(frame, density.value),
  };
}
