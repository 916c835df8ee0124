import { type Agreement, agreementOf, type ComparedFactor } from "../calibration/agreement.ts";
import { Decimal, ZERO } from "../quantity/decimal.ts";
import { InputError, requireNotNegative } from "../quantity/input-error.ts";
import { memberAt } from "../statistics/sample.ts";

/** A calibration as a link of the chain. */
export interface ChainedFactor extends ComparedFactor {
  /** Part of u that comes from the micrometer and its certificate; µm/div. */
  readonly commonUncertainty: Decimal;
  /** Which micrometer and certificate were used: only neighbours with the same one share the common part. */
  readonly reference: string;
}

export interface ChainLink {
  /** Place, from 0, of the later calibration. */
  readonly index: number;
  readonly agreement: Agreement;
}

/**
 * Agreement of each calibration with the one before it (E_n, ISO 13528; E_n′ with the common reference taken out). When
 * both used one reference they share the smaller of the two common parts. A chain of small E_n can still drift: only a
 * line through the whole history sees that.
 * @param factors of one train, in order of time
 * @throws InputError naming `factors.i` when a common part exceeds its uncertainty
 */
export function agreementChain(factors: readonly ChainedFactor[], coverageFactor?: Decimal): ChainLink[] {
  factors.forEach((link, index) => {
    requireNotNegative(`factors.${index}.commonUncertainty`, link.commonUncertainty);
    if (link.commonUncertainty.greaterThan(link.standardUncertainty)) {
      throw new InputError(
        `factors.${index}.commonUncertainty`,
        "must not exceed the uncertainty it is part of",
      );
    }
  });
  return factors.slice(1).map((later, place) => {
    const earlier = memberAt(factors, place);
    const shared = earlier.reference === later.reference;
    const sharedUncertainty = shared ? Decimal.min(earlier.commonUncertainty, later.commonUncertainty) : ZERO;
    const input = { earlier, later, sharedUncertainty };
    return {
      index: place + 1,
      agreement: agreementOf(coverageFactor === undefined ? input : { ...input, coverageFactor }),
    };
  });
}
