import { type Decimal, decimal } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";

export interface NominalFactorInput {
  /** Length of the reticle's scale, mm, and its number of divisions. */
  readonly reticleLengthMm: Decimal;
  readonly divisions: Decimal | number;
  /** Magnifications as engraved; `intermediate` is 1 without a changer. */
  readonly objective: Decimal;
  readonly intermediate: Decimal;
}

/**
 * The factor a train should have by what is engraved on it: reticle pitch / (objective × intermediate magnification),
 * µm/div. A prediction to compare with, never used to convert readings: engraved magnifications are approximate
 * (ASTM E1951-14 5.1.1).
 * @throws InputError naming the input that is not greater than zero
 */
export function nominalFactor(input: NominalFactorInput): Decimal {
  const length = requirePositive("reticleLengthMm", input.reticleLengthMm);
  const divisions = requirePositive("divisions", decimal(input.divisions));
  const objective = requirePositive("objective", input.objective);
  const intermediate = requirePositive("intermediate", input.intermediate);
  return length.times(1000).div(divisions).div(objective.times(intermediate));
}
