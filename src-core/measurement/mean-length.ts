import { type Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { InputError, requireNotNegative } from "../quantity/input-error.ts";
import { uncertaintyOf } from "../uncertainty/coverage.ts";
import { rectangular } from "../uncertainty/type-b.ts";
import type { Uncertainty } from "../uncertainty/uncertainty.ts";
import type { CoverageRule } from "../vocabulary/calibration.ts";
import type { ReadingConditions } from "./size.ts";

/** A sample of objects measured with one factor. */
export interface MeanLengthInput {
  /** Standard deviation (n − 1), µm, and number of objects. */
  readonly deviation: Decimal;
  readonly count: number;
  /** u of the mean from the factor, mean·u(f)/f, µm, and its ν (null: infinite). */
  readonly factorUncertainty: Decimal;
  readonly factorDegreesOfFreedom: Decimal | null;
  /** u of a size from edges biased alike on every object, µm, and its ν. */
  readonly edgeUncertainty: Decimal;
  readonly edgeDegreesOfFreedom: Decimal | null;
  readonly coverage: CoverageRule;
}

/**
 * Uncertainty of a mean as a length: u² = s²/n + (mean·u(f)/f)² + u_e². Only the sampling part shrinks with n: the factor
 * and edges read alike are the same error in every object (JCGM 100:2008 4.2.3 and 5.2.2).
 * @throws InputError `count` below 2 or another field that is negative
 */
export function meanLengthUncertainty(input: MeanLengthInput): Uncertainty {
  if (!Number.isInteger(input.count) || input.count < 2) {
    throw new InputError("count", "must be a whole number of objects, at least 2");
  }
  return uncertaintyOf(
    [
      {
        contribution: requireNotNegative("deviation", input.deviation).div(decimal(input.count).sqrt()),
        degreesOfFreedom: decimal(input.count - 1),
      },
      {
        contribution: requireNotNegative("factorUncertainty", input.factorUncertainty),
        degreesOfFreedom: input.factorDegreesOfFreedom,
      },
      {
        contribution: requireNotNegative("edgeUncertainty", input.edgeUncertainty),
        degreesOfFreedom: input.edgeDegreesOfFreedom,
      },
    ],
    input.coverage,
  );
}

/** u of the edges that is one error in every object, µm, and its ν: 2·a/√3 where both are biased alike, else none. */
export function sharedEdges({
  edgeKind,
  edgeHalfWidth,
  edgeDegreesOfFreedom,
}: ReadingConditions): Pick<MeanLengthInput, "edgeUncertainty" | "edgeDegreesOfFreedom"> {
  const isShared = edgeKind === "same-sense";
  return {
    edgeUncertainty: isShared ? rectangular(edgeHalfWidth).times(2) : ZERO,
    edgeDegreesOfFreedom: isShared ? edgeDegreesOfFreedom : null,
  };
}
