import type { Decimal } from "../quantity/decimal.ts";
import type { BudgetComponent, Uncertainty } from "../uncertainty/uncertainty.ts";
import type { CoverageRule } from "../vocabulary/calibration.ts";
import type { EdgeKind } from "../vocabulary/measurement.ts";

/** The factor a size is converted with: µm/div, u(f) and its degrees of freedom (null: infinite). */
export interface FactorInForce {
  readonly factor: Decimal;
  readonly standardUncertainty: Decimal;
  readonly degreesOfFreedom: Decimal | null;
}

/** What a method says about reading one dimension; `DEFAULT_READING_CONDITIONS` states the defaults and their origin. */
export interface ReadingConditions {
  /** Smallest fraction of a division that is read, div. */
  readonly smallestFraction: Decimal;
  /** Standard deviation of a single reading pair for this person, div, and its ν (null: taken as known). */
  readonly repeatability: Decimal;
  readonly repeatabilityDegreesOfFreedom: Decimal | null;
  /** Whose it is and from what, in words; left out where it was typed. */
  readonly repeatabilitySource?: string;
  /** Largest angle between object and scale, degrees; and whether the ends are points or parallel edges. */
  readonly alignmentHalfAngle: Decimal;
  readonly ends: "points" | "parallel-edges";
  /** Half-width of the doubt where an edge lies, µm per edge; its ν (null: infinite). */
  readonly edgeHalfWidth: Decimal;
  readonly edgeDegreesOfFreedom: Decimal | null;
  readonly edgeKind: EdgeKind;
}

export interface SizeInput {
  /** Repeats of the same dimension, each right − left or a direct reading, div. */
  readonly divisions: readonly Decimal[];
  readonly factor: FactorInForce;
  readonly conditions: ReadingConditions;
  readonly coverage: CoverageRule;
}

/** A size in µm with its uncertainty; `budget` as in a calibration, in µm. */
export interface SizeResult {
  /** Mean of the repeats, div. */
  readonly divisions: Decimal;
  readonly size: Decimal;
  readonly budget: readonly BudgetComponent[];
  readonly uncertainty: Uncertainty;
}
