import { type Decimal, decimal, ONE } from "../quantity/decimal.ts";
import { requireFinite, requireNotNegative } from "../quantity/input-error.ts";
import { type BudgetEntry, closeBudget } from "../uncertainty/budget.ts";
import { fromResolution, ROOT_3, ROOT_12, rectangular } from "../uncertainty/type-b.ts";
import type { Uncertainty } from "../uncertainty/uncertainty.ts";
import type { CoverageRule } from "../vocabulary/calibration.ts";

const UM_PER_MM: Decimal = decimal(1000);

/** A point by the verniers of the mechanical stage, mm. */
export interface StagePoint {
  readonly x: Decimal;
  readonly y: Decimal;
}

export interface StageDistanceInput {
  readonly from: StagePoint;
  readonly to: StagePoint;
  /** Smallest step read on the vernier, mm; commonly 0.1. */
  readonly vernierStep: Decimal;
  /** Half-width of the stage scale's own error, relative. */
  readonly scaleHalfWidth: Decimal;
  /** Standard deviation of setting one point to the cross line, mm. */
  readonly setting: Decimal;
  readonly coverage: CoverageRule;
}

export interface StageDistance {
  readonly distanceUm: Decimal;
  readonly budget: ReturnType<typeof closeBudget>["components"];
  /** µm. */
  readonly uncertainty: Uncertainty;
}

/**
 * Distance of two points by the stage verniers, √(Δx² + Δy²), in µm, for objects longer than the reticle. All four
 * readings have the same u, so u of the distance is √2 times that of one reading, whatever its direction.
 * @throws InputError naming the reading or condition
 */
export function stageDistance(input: StageDistanceInput): StageDistance {
  const { from, to } = input;
  for (const [name, point] of [
    ["from", from],
    ["to", to],
  ] as const) {
    requireFinite(`${name}.x`, point.x);
    requireFinite(`${name}.y`, point.y);
  }
  requireNotNegative("vernierStep", input.vernierStep);
  requireNotNegative("scaleHalfWidth", input.scaleHalfWidth);
  requireNotNegative("setting", input.setting);
  const dx = to.x.minus(from.x);
  const dy = to.y.minus(from.y);
  const distanceUm = dx.times(dx).plus(dy.times(dy)).sqrt().times(UM_PER_MM);
  const point = { unit: "mm", sensitivity: UM_PER_MM, degreesOfFreedom: null, class: "occasion" } as const;
  const entries: BudgetEntry[] = (["from", "to"] as const).flatMap((key): BudgetEntry[] => {
    const end = key === "from" ? "first" : "second";
    return [
      {
        key: `vernier-${key}`,
        name: `Vernier at the ${end} point`,
        distribution: "rectangular",
        standardUncertainty: fromResolution(input.vernierStep),
        divisor: ROOT_12,
        ...point,
      },
      {
        key: `setting-${key}`,
        name: `Setting of the ${end} point`,
        distribution: "normal",
        standardUncertainty: input.setting,
        divisor: ONE,
        ...point,
      },
    ];
  });
  entries.push({
    key: "stage-scale",
    name: "Scale of the stage",
    distribution: "rectangular",
    standardUncertainty: rectangular(input.scaleHalfWidth),
    unit: "1",
    divisor: ROOT_3,
    sensitivity: distanceUm,
    degreesOfFreedom: null,
    class: "common",
  });
  const budget = closeBudget(entries, input.coverage);
  return { distanceUm, budget: budget.components, uncertainty: budget.uncertainty };
}
