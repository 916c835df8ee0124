import { type Decimal, decimal, rootSumOfSquares, sumOf } from "../quantity/decimal.ts";
import { mean, memberAt } from "../statistics/sample.ts";

/** One train's history as a witness of what happened on a day. */
export interface WitnessSeries {
  readonly key: string;
  readonly name: string;
  readonly microscope: string;
  /** Oldest first, withdrawn and lone values left out. */
  readonly points: readonly {
    readonly day: Decimal;
    readonly value: Decimal;
    /** Part of u that is fresh each time, in the unit of the value. */
    readonly occasionUncertainty: Decimal;
    /** Micrometer and certificate. */
    readonly reference: string;
  }[];
}

/** What a series says about a day: the change from the calibrations before it to those from it on. */
export interface Witness {
  readonly series: WitnessSeries;
  readonly relative: Decimal;
  readonly uncertainty: Decimal;
  /** The change is more than three times its uncertainty. */
  readonly sees: boolean;
  /** It was calibrated with another micrometer or certificate from that day on. */
  readonly switched: boolean;
}

export const CULPRITS = ["micrometer", "microscope", "train", "nothing"] as const;
export type Culprit = (typeof CULPRITS)[number];

export interface StepFinding {
  readonly pointsTo: Culprit;
  readonly witnesses: readonly Witness[];
  readonly seen: readonly Witness[];
  /** Mean change of those that see it; null when none does. */
  readonly relative: Decimal | null;
}

const AROUND = 3;
const SEES = 3;

/** Change at a day from up to three values on either side; null without a value on both. */
export function witnessOf(series: WitnessSeries, day: Decimal): Witness | null {
  const before = series.points.filter((point) => point.day.lessThan(day)).slice(-AROUND);
  const after = series.points.filter((point) => !point.day.lessThan(day)).slice(0, AROUND);
  if (before.length === 0 || after.length === 0) return null;
  const level = mean(before.map(({ value }) => value));
  const part = (side: typeof before): Decimal =>
    rootSumOfSquares(side.map((one) => one.occasionUncertainty)).div(side.length);
  const uncertainty = rootSumOfSquares([part(before), part(after)]).div(level);
  const relative = mean(after.map(({ value }) => value))
    .div(level)
    .minus(1);
  return {
    series,
    relative,
    uncertainty,
    sees: relative.abs().greaterThan(uncertainty.times(SEES)),
    switched: before.at(-1)?.reference !== after[0]?.reference,
  };
}

/** One mean change explains all of them: none is further from it than three of its own uncertainties. */
function alike(witnesses: readonly Witness[]): boolean {
  const weights = witnesses.map(({ uncertainty }) => uncertainty.pow(-2));
  const centre = sumOf(witnesses.map(({ relative }, at) => relative.times(memberAt(weights, at)))).div(
    sumOf(weights),
  );
  return witnesses.every(({ relative, uncertainty }) =>
    relative.minus(centre).abs().lessThanOrEqualTo(uncertainty.times(SEES)),
  );
}

/**
 * Where a change on a day comes from, by who sees it. All trains, of several microscopes, by the same amount: the
 * micrometer or its certificate, which is all they share; so too when those and only those see it whose reference was
 * changed on that day. All trains of one microscope and no others: what those share,
 * head, eyepiece or reticle. Only one of several: that train. Our own rule; it needs two witnesses with uncertainties.
 */
export function stepFinding(series: readonly WitnessSeries[], day: Decimal): StepFinding {
  const witnesses = series.flatMap((one) => {
    const found = witnessOf(one, day);
    return found?.uncertainty.greaterThan(0) ? [found] : [];
  });
  const seen = witnesses.filter((one) => one.sees);
  const relative = seen.length === 0 ? null : mean(seen.map((one) => one.relative));
  const finding = (pointsTo: Culprit): StepFinding => ({ pointsTo, witnesses, seen, relative });
  if (witnesses.length < 2 || seen.length === 0) return finding("nothing");
  if (witnesses.every((one) => one.sees === one.switched)) return finding("micrometer");
  const stands = new Set(witnesses.map((one) => one.series.microscope));
  const all = seen.length === witnesses.length;
  if (all && stands.size > 1 && alike(seen)) return finding("micrometer");
  const seeing = new Set(seen.map((one) => one.series.microscope));
  const wholeStand = witnesses.every((one) => one.sees === seeing.has(one.series.microscope));
  if (seen.length > 1 && seeing.size === 1 && wholeStand && alike(seen)) return finding("microscope");
  return finding("train");
}

/** Middle of the gap in which a step happened, so that calibrations of one campaign fall on one side of it. */
export function middleDay(from: Decimal, to: Decimal): Decimal {
  return from.plus(to.minus(from).div(decimal(2)));
}
