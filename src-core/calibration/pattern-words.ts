import { countedNoun } from "../quantity/counted-noun.ts";
import { Decimal } from "../quantity/decimal.ts";
import { trueMinus } from "../quantity/printed-number.ts";
import { formatToPlaces, roundToSignificant } from "../quantity/rounding.ts";
import type { PlacedSetting } from "./halves.ts";
import { HALVES, type PatternPlan, type PatternTest, QUARTERS, settingsEach } from "./pattern-test.ts";

/** Spans whose middles lie closer than this share of the scale say nothing about a change along it. */
const APART = 0.05;

export function percent(value: Decimal): string {
  return trueMinus(formatToPlaces(value.times(100), 2));
}

/** What a finding rests on, for the words of one that was not tested. */
export interface Untested {
  readonly test: PatternTest | null;
  /** Relative. */
  readonly limit: Decimal;
  readonly settings: readonly PlacedSetting[];
  /** s of one reticle interval, div. */
  readonly reading: Decimal;
}

function isOverSameDivisions(settings: readonly PlacedSetting[]): boolean {
  const middles = settings.map((one) => one.reticleLeft.plus(one.reticleRight).div(2));
  const spans = settings.map((one) => one.reticleRight.minus(one.reticleLeft));
  const widest = Decimal.max(...spans);
  const apart = (values: readonly Decimal[]): Decimal => Decimal.max(...values).minus(Decimal.min(...values));
  return Decimal.max(apart(middles), apart(spans)).lessThan(widest.times(APART));
}

/** Why a change along the scale was not tested, as the end of “not tested: …”. */
export function whyUntested({ test, limit, settings }: Untested): string {
  if (settings.length < 3) return `${countedNoun(settings.length, "setting")} cannot show it`;
  if (isOverSameDivisions(settings)) return "all settings lie over the same divisions";
  if (test === null) return "these settings cannot tell it from a change of the factor";
  const shows = roundToSignificant(test.shows.times(100), 2).toFixed();
  return `only a change of ${shows} % would be found nine times in ten; the limit is ${roundToSignificant(limit.times(100), 2).toFixed()} %`;
}

function howToTest(plan: PatternPlan, { limit, settings, reading }: Untested, places: string): string {
  const low = Decimal.min(...settings.map((one) => one.reticleLeft));
  const high = Decimal.max(...settings.map((one) => one.reticleRight));
  const each = settingsEach(plan, reading, high.minus(low).div(2), limit);
  return each === null
    ? "The readings scatter too much for it over this span: use a longer one, or read more finely."
    : `To test it take ${each} settings over ${places}.`;
}

/** What to measure so that the halves can be compared. */
export function howToTestHalves(untested: Untested): string {
  return howToTest(HALVES, untested, "the left half of the scale and as many over the right");
}

/** What to measure so that a bow would show. */
export function howToTestBow(untested: Untested): string {
  return howToTest(QUARTERS, untested, "each of the left quarter, the middle half and the right quarter");
}
