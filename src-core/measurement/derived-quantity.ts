import { factorKey } from "../contract/records/cell-volume.ts";
import { type Decimal, ONE, sumOf, ZERO } from "../quantity/decimal.ts";
import { InputError, requireCount, requireFinite, requirePositive } from "../quantity/input-error.ts";
import type { Contribution } from "../uncertainty/combine.ts";
import { uncertaintyOf } from "../uncertainty/coverage.ts";
import type { Uncertainty } from "../uncertainty/uncertainty.ts";
import type { CoverageRule } from "../vocabulary/calibration.ts";
import type { SizeResult } from "./size.ts";

/** One measured size that enters a derived quantity. */
export interface DerivedPart {
  readonly result: SizeResult;
  /** The calibration it was converted with: parts with the same one share its error. */
  readonly calibrationId: string;
}

export interface DerivedQuantity {
  readonly value: Decimal;
  /** In the unit of the value: 1 for a ratio, µm, µm² or µm³. */
  readonly uncertainty: Uncertainty;
}

/** An error that several sizes share, with its sign, in the unit of the quantity. */
export interface SharedEffect {
  readonly sum: Decimal;
  readonly degreesOfFreedom: Decimal | null;
}

/** What acts on a quantity: shared errors by key (`factor` and the calibration, `edges` …), and everything else. */
export interface Effects {
  readonly shared: ReadonlyMap<string, SharedEffect>;
  readonly own: readonly Contribution[];
}

/**
 * Adds up the contributions to y = g(d₁, d₂ …). What parts share, the factor of one calibration and edges biased alike,
 * is one error and adds with its sign; everything else is independent. JCGM 100:2008 5.2.2 eq. (16) with r = 1 or 0.
 */
export function effectsOf(parts: readonly DerivedPart[], partials: readonly Decimal[]): Effects {
  const shared = new Map<string, SharedEffect>();
  const own: Contribution[] = [];
  parts.forEach((part, i) => {
    const partial = requireFinite(`parts.${i}`, partials[i] ?? ZERO);
    for (const line of part.result.budget) {
      const signed = partial.times(line.sensitivity).times(line.standardUncertainty);
      if (line.class === "occasion") {
        own.push({ contribution: signed.abs(), degreesOfFreedom: line.degreesOfFreedom });
        continue;
      }
      const key = line.key === "factor" ? factorKey(part.calibrationId) : line.key;
      const before = shared.get(key);
      shared.set(key, {
        sum: before ? before.sum.plus(signed) : signed,
        degreesOfFreedom: line.degreesOfFreedom,
      });
    }
  });
  return { shared, own };
}

function contributionsOf(parts: readonly DerivedPart[], partials: readonly Decimal[]): Contribution[] {
  const { shared, own } = effectsOf(parts, partials);
  const common = [...shared.values()].map(({ sum, degreesOfFreedom }) => ({
    contribution: sum.abs(),
    degreesOfFreedom,
  }));
  return [...common, ...own];
}

function requireParts(parts: readonly DerivedPart[], weights: readonly unknown[]): void {
  requireCount("parts", parts, 1);
  if (weights.length !== parts.length) throw new InputError("parts", "must have one weight or exponent each");
}

/**
 * Any quantity of some sizes from its value and its partial derivatives ∂y/∂dᵢ at that value; what the parts share is
 * counted once, as for the others.
 * @throws InputError `parts`
 */
export function quantityFromPartials(
  value: Decimal,
  parts: readonly DerivedPart[],
  partials: readonly Decimal[],
  coverage: CoverageRule,
): DerivedQuantity {
  requireParts(parts, partials);
  return {
    value: requireFinite("value", value),
    uncertainty: uncertaintyOf(contributionsOf(parts, partials), coverage),
  };
}

/**
 * A sum of sizes with weights, Σ wᵢ·dᵢ, µm: 1 and −1 give a difference, in which the shared factor acts only on what is
 * left.
 * @throws InputError `parts`
 */
export function weightedSum(
  parts: readonly DerivedPart[],
  weights: readonly Decimal[],
  coverage: CoverageRule,
): DerivedQuantity {
  requireParts(parts, weights);
  return {
    value: sumOf(parts.map((part, i) => part.result.size.times(weights[i] ?? ZERO))),
    uncertainty: uncertaintyOf(contributionsOf(parts, weights), coverage),
  };
}

/**
 * A product of powers of sizes, c·Π dᵢ^pᵢ: exponents 1 and −1 give a ratio, from which a shared factor falls out; 1 and 1
 * an area, in which it counts twice.
 * @param exponents whole numbers, pᵢ
 * @throws InputError `parts.N` for a size that is not greater than zero
 */
export function powerProduct(
  parts: readonly DerivedPart[],
  exponents: readonly number[],
  coefficient: Decimal,
  coverage: CoverageRule,
): DerivedQuantity {
  requireParts(parts, exponents);
  // Divided once, at the end: d·d⁻¹ in decimals of finite length can miss 1, and with it the class of a ratio.
  let numerator = requirePositive("coefficient", coefficient);
  let denominator = ONE;
  parts.forEach((part, i) => {
    const exponent = exponents[i] ?? 0;
    const power = requirePositive(`parts.${i}`, part.result.size).pow(Math.abs(exponent));
    if (exponent < 0) denominator = denominator.times(power);
    else numerator = numerator.times(power);
  });
  const value = numerator.div(denominator);
  const partials = parts.map((part, i) => value.times(exponents[i] ?? 0).div(part.result.size));
  return { value, uncertainty: uncertaintyOf(contributionsOf(parts, partials), coverage) };
}
