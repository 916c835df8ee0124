import { type Agreement, agreementOf } from "../calibration/agreement.ts";
import { Decimal, ZERO } from "../quantity/decimal.ts";
import { memberAt } from "../statistics/sample.ts";
import type { HistoryPoint } from "./baseline.ts";

/** A calibration of a train as its history needs it; µm/div. */
export interface HistoryFactor extends HistoryPoint {
  readonly standardUncertainty: Decimal;
  readonly expandedUncertainty: Decimal;
  /** Part of u that comes from the micrometer and its certificate. */
  readonly commonUncertainty: Decimal;
  /** Part of u that is fresh each time. */
  readonly occasionUncertainty: Decimal;
  /** Which micrometer and certificate it rests on. */
  readonly reference: string;
  /** True for a calibration that must not count, such as a withdrawn one. */
  readonly withdrawn: boolean;
}

/** Agreement of two calibrations of a train; what they share through one reference is the smaller common part. */
export function agreementBetween(earlier: HistoryFactor, later: HistoryFactor): Agreement {
  const sharedUncertainty =
    earlier.reference === later.reference
      ? Decimal.min(
          earlier.commonUncertainty,
          later.commonUncertainty,
          earlier.standardUncertainty,
          later.standardUncertainty,
        )
      : ZERO;
  const partner = ({ value, standardUncertainty, expandedUncertainty }: HistoryFactor) => ({
    factor: value,
    standardUncertainty,
    expandedUncertainty,
  });
  return agreementOf({ earlier: partner(earlier), later: partner(later), sharedUncertainty });
}

const agrees = (a: HistoryFactor, b: HistoryFactor): boolean => agreementBetween(a, b).verdict === "agrees";

/**
 * Places of values apart from both neighbours while the neighbours agree with each other (E_n and E_n′ at most 1, ISO
 * 13528:2015 9.7): once a wrong objective or a changer left in, not a change of the train. Our own rule. The last value
 * is never one: nothing can yet vouch for it. Withdrawn values are passed over.
 */
export function loneValues(points: readonly HistoryFactor[]): ReadonlySet<number> {
  const places = points.flatMap((point, place) => (point.withdrawn ? [] : [place]));
  const lone = new Set<number>();
  for (let at = 1; at < places.length - 1; at += 1) {
    const place = memberAt(places, at);
    const before = memberAt(places, at - 1);
    if (lone.has(before)) continue;
    const [earlier, here, later] = [before, place, memberAt(places, at + 1)].map((one) =>
      memberAt(points, one),
    ) as [HistoryFactor, HistoryFactor, HistoryFactor];
    if (!agrees(earlier, here) && !agrees(here, later) && agrees(earlier, later)) lone.add(place);
  }
  return lone;
}
