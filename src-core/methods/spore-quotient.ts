import { type Decimal, PI } from "../quantity/decimal.ts";
import { InputError, requirePositive } from "../quantity/input-error.ts";
import { mean, memberAt, sorted, standardDeviation } from "../statistics/sample.ts";

/** One spore: length and width, µm. */
export interface Spore {
  readonly length: Decimal;
  readonly width: Decimal;
}

export interface QuotientStatistics {
  readonly n: number;
  /** Q = L/W of each spore, in the order given. */
  readonly quotients: readonly Decimal[];
  /** Q_m, the mean of the quotients. */
  readonly mean: Decimal;
  /** s with n − 1; null for a single spore. */
  readonly deviation: Decimal | null;
  readonly minimum: Decimal;
  readonly maximum: Decimal;
  /** L̄/W̄: not the same as Q_m; a report must say which it gives. */
  readonly ratioOfMeans: Decimal;
}

/** @throws InputError when there is no spore or a dimension is not greater than zero */
export function requireSpores(spores: readonly Spore[]): void {
  if (spores.length === 0) throw new InputError("spores", "must not be empty");
  spores.forEach((spore, index) => {
    requirePositive(`spores.${index}.length`, spore.length);
    requirePositive(`spores.${index}.width`, spore.width);
  });
}

/** Q per spore and its statistics. Width above length is not refused: Q is then below 1. */
export function quotientStatistics(spores: readonly Spore[]): QuotientStatistics {
  requireSpores(spores);
  const quotients = spores.map((spore) => spore.length.div(spore.width));
  const rising = sorted(quotients);
  return {
    n: spores.length,
    quotients,
    mean: mean(quotients),
    deviation: spores.length < 2 ? null : standardDeviation(quotients),
    minimum: memberAt(rising, 0),
    maximum: memberAt(rising, rising.length - 1),
    ratioOfMeans: mean(spores.map((spore) => spore.length)).div(mean(spores.map((spore) => spore.width))),
  };
}

/** Spore volume π/6·L·W², µm³: a spheroid of revolution about the length. */
export function sporeVolume(spore: Spore): Decimal {
  requireSpores([spore]);
  return PI.div(6).times(spore.length).times(spore.width).times(spore.width);
}
