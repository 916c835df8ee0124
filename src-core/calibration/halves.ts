import { Decimal, decimal, sumOf, ZERO } from "../quantity/decimal.ts";
import { type PatternTest, patternTest } from "./pattern-test.ts";
import { differenceUncertainty, sharedLineCorrelation } from "./shared-lines.ts";

/** One setting placed on the reticle. */
export interface PlacedSetting {
  /** Reticle readings, div. */
  readonly reticleLeft: Decimal;
  readonly reticleRight: Decimal;
  /** Micrometer lines, nominal µm. */
  readonly lineLeft: Decimal;
  readonly lineRight: Decimal;
  /** Certified length and u of it, µm. */
  readonly length: Decimal;
  readonly standardUncertainty: Decimal;
}

/** Factors of the two halves of the scale and of the whole, µm/div, and how far the halves differ. */
export interface Halves {
  readonly left: Decimal;
  readonly right: Decimal;
  readonly whole: Decimal;
  /** (right − left)/whole. */
  readonly relativeDifference: Decimal;
  /** u of it from the readings and from the certified lines, of which the halves share the middle one. */
  readonly standardUncertainty: Decimal;
  readonly test: PatternTest;
}

/** How near to the middle or an end a reading must lie to count for it, as a share of the span. */
const NEARNESS = decimal("0.1");

interface Group {
  readonly length: Decimal;
  readonly divisions: Decimal;
  readonly certificate: Decimal;
  readonly from: Decimal;
  readonly to: Decimal;
  readonly count: number;
}

function groupOf(settings: readonly PlacedSetting[]): Group | null {
  const first = settings[0];
  if (!first) return null;
  const n = settings.length;
  return {
    length: sumOf(settings.map((one) => one.length)).div(n),
    divisions: sumOf(settings.map((one) => one.reticleRight.minus(one.reticleLeft))).div(n),
    certificate: first.standardUncertainty,
    from: first.lineLeft,
    to: first.lineRight,
    count: n,
  };
}

/** The right half as whole − left half, when no setting was taken in the right half alone. */
function remainder(whole: Group, left: Group): Group {
  return {
    length: whole.length.minus(left.length),
    divisions: whole.divisions.minus(left.divisions),
    certificate: whole.certificate,
    from: left.to,
    to: whole.to,
    count: whole.count,
  };
}

/**
 * u of the relative difference of the halves. Where the right half is the whole less the left, a reading of the left
 * is in both: −e_W/D_R + e_L·(1/D_L + 1/D_R).
 */
function relativeUncertainty(left: Group, right: Group, reading: Decimal, isRemainder: boolean): Decimal {
  const perRight = reading.div(right.divisions);
  const perLeft = reading.div(left.divisions).plus(isRemainder ? perRight : ZERO);
  const readings = perLeft.pow(2).div(left.count).plus(perRight.pow(2).div(right.count));
  const lines = differenceUncertainty(
    left.certificate.div(left.length),
    right.certificate.div(right.length),
    sharedLineCorrelation(left, right),
  );
  return readings.plus(lines.times(lines)).sqrt();
}

/**
 * Factor of the left half, of the right half and of the whole scale. The halves come from settings that cover them; a
 * right half nobody measured is the whole less the left. Null when the settings do not reach both halves.
 * @param reading u of one reticle interval, div
 */
export function halvesOf(settings: readonly PlacedSetting[], reading: Decimal): Halves | null {
  if (settings.length < 2) return null;
  const low = Decimal.min(...settings.map((one) => one.reticleLeft));
  const high = Decimal.max(...settings.map((one) => one.reticleRight));
  const middle = low.plus(high).div(2);
  const near = high.minus(low).times(NEARNESS);
  const covering = (from: Decimal, to: Decimal): Group | null =>
    groupOf(
      settings.filter(
        (one) =>
          one.reticleLeft.minus(from).abs().lessThanOrEqualTo(near) &&
          one.reticleRight.minus(to).abs().lessThanOrEqualTo(near),
      ),
    );
  const whole = covering(low, high);
  const left = covering(low, middle);
  const measured = covering(middle, high);
  const right = measured ?? (whole && left ? remainder(whole, left) : null);
  if (!whole || !left || !right) return null;
  const factor = (group: Group): Decimal => group.length.div(group.divisions);
  const relativeDifference = factor(right).minus(factor(left)).div(factor(whole));
  const standardUncertainty = relativeUncertainty(left, right, reading, measured === null);
  return {
    left: factor(left),
    right: factor(right),
    whole: factor(whole),
    relativeDifference,
    standardUncertainty,
    test: patternTest(relativeDifference, standardUncertainty, settings.length - 1),
  };
}
