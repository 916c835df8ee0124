import { type Decimal, decimal } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";

const PER_DECADE = decimal("-6.643856");

/**
 * Grain-size number from the mean linear intercept: G = −6.643856·log₁₀(ℓ̄/mm) − 3.288. ASTM E112; from memory.
 * @param meanIntercept ℓ̄, mm
 * @throws InputError when it is not greater than zero
 */
export function grainSizeNumber(meanIntercept: Decimal): Decimal {
  return requirePositive("meanIntercept", meanIntercept).log(10).times(PER_DECADE).minus("3.288");
}

/** ∂G/∂ℓ̄ = −6.643856/(ℓ̄·ln 10), per mm. @throws InputError when the mean intercept is not greater than zero */
export function grainSizeSensitivity(meanIntercept: Decimal): Decimal {
  return PER_DECADE.div(requirePositive("meanIntercept", meanIntercept).times(decimal(10).ln()));
}

/** Mean linear intercept, mm: the length of the test line over the intercepts counted on it. */
export function meanIntercept(lineLength: Decimal, intercepts: Decimal): Decimal {
  requirePositive("lineLength", lineLength);
  requirePositive("intercepts", intercepts);
  return decimal(lineLength).div(intercepts);
}
