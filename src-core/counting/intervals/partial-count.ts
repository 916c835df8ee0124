import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { InputError, requireNotNegative, requirePositive } from "../../quantity/input-error.ts";
import type { Provenance } from "../../vocabulary/provenance.ts";

/**
 * Particles on a whole filter from a partial count: P·A_T/A_P − blank. USP <788> method 2; from memory. A blank above
 * the count gives zero, not a negative number of particles.
 * @param counted P, particles counted
 * @param countedArea A_P, mm²
 * @param filterArea A_T, mm²
 * @throws InputError when an area is not greater than zero or the part exceeds the whole
 */
export function particlesOnFilter(
  counted: Decimal,
  countedArea: Decimal,
  filterArea: Decimal,
  blank: Decimal,
): Decimal {
  requireNotNegative("counted", counted);
  requireNotNegative("blank", blank);
  requirePositive("countedArea", countedArea);
  requirePositive("filterArea", filterArea);
  if (countedArea.greaterThan(filterArea)) {
    throw new InputError("countedArea", "must not be more than the area of the filter");
  }
  const net = counted.times(filterArea).div(countedArea).minus(blank);
  return net.lessThan(0) ? decimal(0) : net;
}

/** Most particles allowed, per mL or per container. */
export interface ParticleLimit extends Provenance {
  readonly id: string;
  readonly name: string;
  readonly basis: "mL" | "container";
  /** Particles of at least 10 µm and at least 25 µm. */
  readonly tenMicrometres: string;
  readonly twentyFiveMicrometres: string;
}

const USP_788: Provenance = { source: "USP <788>, method 2, limits", standing: "from memory" };

export const LARGE_VOLUME_LIMIT: ParticleLimit = {
  id: "usp-788-2-large",
  name: "more than 100 mL nominal",
  basis: "mL",
  tenMicrometres: "12",
  twentyFiveMicrometres: "2",
  ...USP_788,
};

export const SMALL_VOLUME_LIMIT: ParticleLimit = {
  id: "usp-788-2-small",
  name: "100 mL nominal or less",
  basis: "container",
  tenMicrometres: "3000",
  twentyFiveMicrometres: "300",
  ...USP_788,
};

/** The limit for a container. The pharmacopoeia in force decides, not this table. */
export function particleLimitFor(nominalMillilitres: Decimal): ParticleLimit {
  requirePositive("nominalMillilitres", nominalMillilitres);
  return nominalMillilitres.greaterThan(100) ? LARGE_VOLUME_LIMIT : SMALL_VOLUME_LIMIT;
}

/** Both size classes are within the limit; a count equal to the limit meets it. */
export function meetsParticleLimit(
  tenMicrometres: Decimal,
  twentyFiveMicrometres: Decimal,
  limit: ParticleLimit,
): boolean {
  requireNotNegative("tenMicrometres", tenMicrometres);
  requireNotNegative("twentyFiveMicrometres", twentyFiveMicrometres);
  return (
    tenMicrometres.lessThanOrEqualTo(decimal(limit.tenMicrometres)) &&
    twentyFiveMicrometres.lessThanOrEqualTo(decimal(limit.twentyFiveMicrometres))
  );
}
