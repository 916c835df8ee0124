import { Decimal } from "./decimal.ts";
import { requireFinite, requireNotNegative } from "./input-error.ts";

/**
 * How a tie (…5 exactly) is decided. `half-even`: ISO 80000-1:2009 Annex B, B.3 rule A. `half-up`: rule B, away from
 * zero. The decision is made on the decimal digits, never on a binary approximation.
 */
export const ROUNDING_RULES = ["half-even", "half-up"] as const;
export type RoundingRule = (typeof ROUNDING_RULES)[number];

const MODES = { "half-even": Decimal.ROUND_HALF_EVEN, "half-up": Decimal.ROUND_HALF_UP } as const;

/** Rounds to `places` digits after the point; negative places round to tens, hundreds … */
export function roundToPlaces(value: Decimal, places: number, rule: RoundingRule = "half-even"): Decimal {
  requireFinite("value", value);
  if (places >= 0) return value.toDecimalPlaces(places, MODES[rule]);
  const scale = new Decimal(10).pow(-places);
  return value.div(scale).toDecimalPlaces(0, MODES[rule]).times(scale);
}

/** Rounds to `digits` significant digits. */
export function roundToSignificant(
  value: Decimal,
  digits: number,
  rule: RoundingRule = "half-even",
): Decimal {
  requireFinite("value", value);
  return value.isZero() ? value : value.toSignificantDigits(digits, MODES[rule]);
}

/** Text of a value rounded to `places`, padded with zeros (`295.6`). */
export function formatToPlaces(value: Decimal, places: number, rule: RoundingRule = "half-even"): string {
  return roundToPlaces(value, places, rule).toFixed(Math.max(0, places));
}

export interface ReportedValue {
  /** The value at the place of the last digit of U, e.g. `295.6`. */
  readonly value: string;
  /** The expanded uncertainty with its significant digits, e.g. `4.1`. */
  readonly uncertainty: string;
  /** Digits after the point; negative when U is 100 or more. */
  readonly places: number;
}

/**
 * A value and its expanded uncertainty as printed: U to `digits` significant digits, the value to the same place
 * (JCGM 100:2008 7.2.6). With one digit, U is rounded up where rounding would lower it by more than 5 % (EA-4/02 6.3).
 * A U of zero gives the value with all its digits up to ten places.
 */
export function reportWithUncertainty(
  value: Decimal,
  expanded: Decimal,
  rule: RoundingRule = "half-even",
  digits: 1 | 2 = 2,
): ReportedValue {
  requireFinite("value", value);
  requireNotNegative("expanded", expanded);
  if (expanded.isZero()) {
    const places = Math.min(10, value.decimalPlaces());
    return { value: formatToPlaces(value, places, rule), uncertainty: "0", places };
  }
  let rounded = roundToSignificant(expanded, digits, rule);
  if (rounded.lessThan(expanded.times("0.95")))
    rounded = expanded.toSignificantDigits(digits, Decimal.ROUND_UP);
  const places = digits - 1 - rounded.e;
  return {
    value: formatToPlaces(value, places, rule),
    uncertainty: formatToPlaces(rounded, places, rule),
    places,
  };
}
