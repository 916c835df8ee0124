import { type Decimal, ZERO } from "../quantity/decimal.ts";
import { InputError, requireFinite, requireNotNegative, requirePositive } from "../quantity/input-error.ts";

/** One independent contribution to a result: |c·u| in the unit of the result, and its ν (null: infinite). */
export interface Contribution {
  readonly contribution: Decimal;
  readonly degreesOfFreedom: Decimal | null;
}

/** u_c, its square and ν_eff (null: infinite) of one set of contributions. */
export interface Combined {
  readonly variance: Decimal;
  readonly standard: Decimal;
  readonly degreesOfFreedom: Decimal | null;
}

/**
 * u_c = √Σ(c_i u_i)² of independent inputs, JCGM 100:2008 5.1.2 eq. (10), and ν_eff = u_c⁴/Σ(u_i⁴/ν_i), the
 * Welch–Satterthwaite formula, G.4.1 eq. (G.2b), not truncated; infinite when nothing with finite ν is left.
 * @throws InputError `contributions.N.contribution` when not finite or negative, `contributions.N.degreesOfFreedom` when
 * not greater than zero
 */
export function combine(contributions: readonly Contribution[]): Combined {
  let variance = ZERO;
  let weighed = ZERO;
  contributions.forEach((one, i) => {
    const u = requireNotNegative(`contributions.${i}.contribution`, one.contribution);
    const square = u.times(u);
    variance = variance.plus(square);
    if (one.degreesOfFreedom === null) return;
    const nu = requirePositive(`contributions.${i}.degreesOfFreedom`, one.degreesOfFreedom);
    weighed = weighed.plus(square.times(square).div(nu));
  });
  return {
    variance,
    standard: variance.sqrt(),
    degreesOfFreedom: weighed.isZero() ? null : variance.times(variance).div(weighed),
  };
}

/** u_c alone. */
export function combinedUncertainty(contributions: readonly Contribution[]): Decimal {
  return combine(contributions).standard;
}

/** ν_eff alone. */
export function effectiveDegreesOfFreedom(contributions: readonly Contribution[]): Decimal | null {
  return combine(contributions).degreesOfFreedom;
}

/**
 * Combined standard uncertainty of a function of correlated inputs, JCGM 100:2008 5.2.2 eq. (16):
 * u_c² = ΣᵢΣⱼ cᵢ cⱼ uᵢ uⱼ rᵢⱼ.
 * @param sensitivities cᵢ
 * @param uncertainties uᵢ of the inputs
 * @param correlation rᵢⱼ, a symmetric matrix with ones on the diagonal
 * @throws InputError when the lists do not fit each other, or |r| > 1
 */
export function correlatedUncertainty(
  sensitivities: readonly Decimal[],
  uncertainties: readonly Decimal[],
  correlation: readonly (readonly Decimal[])[],
): Decimal {
  return correlatedCovariance(sensitivities, sensitivities, uncertainties, correlation).sqrt();
}

/**
 * Covariance of two results of the same correlated inputs, JCGM 100:2008 F.1.2.3 eq. (F.2):
 * u(y, z) = ΣᵢΣⱼ aᵢ bⱼ uᵢ uⱼ rᵢⱼ. With both lists of sensitivities equal this is the variance.
 * @throws InputError when the lists do not fit each other, or |r| > 1
 */
export function correlatedCovariance(
  first: readonly Decimal[],
  second: readonly Decimal[],
  uncertainties: readonly Decimal[],
  correlation: readonly (readonly Decimal[])[],
): Decimal {
  const n = uncertainties.length;
  if (first.length !== n || second.length !== n) {
    throw new InputError("sensitivities", `must have one value for each of the ${n} inputs`);
  }
  let sum = ZERO;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const r = correlation[i]?.[j];
      if (!r?.isFinite() || r.abs().greaterThan(1)) {
        throw new InputError(`correlation.${i}.${j}`, "must be a number from −1 to 1");
      }
      const left = product(first[i], uncertainties[i], i);
      const right = product(second[j], uncertainties[j], j);
      sum = sum.plus(left.times(right).times(r));
    }
  }
  return sum;
}

function product(sensitivity: Decimal | undefined, uncertainty: Decimal | undefined, i: number): Decimal {
  if (!sensitivity || !uncertainty) throw new InputError(`inputs.${i}`, "is missing");
  requireNotNegative(`uncertainties.${i}`, uncertainty);
  return requireFinite(`sensitivities.${i}`, sensitivity).times(uncertainty);
}
