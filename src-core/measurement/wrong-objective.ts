import { type Decimal, decimal } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";

/** Another train of the same turret with its factor, µm/div. */
export interface TurretFactor {
  readonly name: string;
  readonly factor: Decimal;
}

export interface WrongObjectiveHint {
  readonly name: string;
  /** What the same divisions would be with that objective, µm. */
  readonly sizeThere: Decimal;
}

/** How near the size must come to the usual one to be worth a hint, relative. */
const NEAR = decimal("0.15");
/** A size within this of its usual value needs no hint. */
const ORDINARY = decimal("0.3");

/** Whether a size is so near the usual one that nothing needs explaining. */
export function isOrdinarySize(size: Decimal, usual: Decimal): boolean {
  return size.div(usual).minus(1).abs().lessThanOrEqualTo(ORDINARY);
}

/**
 * The objective that was probably under the stage when a size is far from the usual one of its label: with that
 * objective's factor the same divisions would give about the usual size. Null when the size is ordinary or no other
 * factor of the turret explains it. Common practice, no source.
 * @param size, usual µm; @param factor the factor used, µm/div
 */
export function wrongObjectiveHint(
  size: Decimal,
  usual: Decimal,
  factor: Decimal,
  others: readonly TurretFactor[],
): WrongObjectiveHint | null {
  requirePositive("usual", usual);
  requirePositive("factor", factor);
  const away = (value: Decimal): Decimal => value.div(usual).minus(1).abs();
  if (isOrdinarySize(requirePositive("size", size), usual)) return null;
  const explained = others
    .map((other, i) => ({
      name: other.name,
      sizeThere: size.times(requirePositive(`others.${i}.factor`, other.factor)).div(factor),
    }))
    .filter((one) => away(one.sizeThere).lessThanOrEqualTo(NEAR))
    .sort((a, b) => away(a.sizeThere).comparedTo(away(b.sizeThere)));
  return explained[0] ?? null;
}
