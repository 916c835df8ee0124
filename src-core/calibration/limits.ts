import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requirePositive } from "../quantity/input-error.ts";

export const LIMIT_KEYS = [
  "span",
  "relative-deviation",
  "range",
  "nominal-deviation",
  "change-investigate",
  "change-stop",
  "halves",
  "field",
  "offset",
  "agreement",
] as const;
export type LimitKey = (typeof LIMIT_KEYS)[number];

/** One acceptance limit of a calibration: the proposal, its unit, what it means and where it comes from. */
export interface AcceptanceLimit {
  readonly name: string;
  /** As typed; a percentage is typed as a percentage. */
  readonly value: string;
  readonly unit: "div" | "%" | "1";
  readonly meaning: string;
  readonly origin: string;
}

/** The limits proposed for a new bench. Each may be changed; the record of a verdict keeps the limits it used. */
export const PROPOSED_LIMITS: Readonly<Record<LimitKey, AcceptanceLimit>> = {
  span: {
    name: "Span used",
    value: "50",
    unit: "div",
    meaning: "Least number of reticle divisions the longest setting covers.",
    origin: "Half of a scale of 100 divisions. Common practice, no source.",
  },
  "relative-deviation": {
    name: "Repeatability",
    value: "0.5",
    unit: "%",
    meaning: "Largest relative standard deviation of the settings.",
    origin: "Common practice, no source.",
  },
  range: {
    name: "Range of the settings",
    value: "1",
    unit: "%",
    meaning: "Largest difference between the ratios of any two settings, relative to their mean.",
    origin: "Common practice, no source.",
  },
  "nominal-deviation": {
    name: "Deviation from nominal",
    value: "5",
    unit: "%",
    meaning: "Largest deviation from reticle pitch over magnification.",
    origin: "Tolerance of marked magnifications, ISO 8039:2014 5.2; the figure is from memory.",
  },
  "change-investigate": {
    name: "Warning limit for change",
    value: "1",
    unit: "%",
    meaning: "Change from the factor before, same train, beyond which the cause is looked for.",
    origin: "Common practice, no source.",
  },
  "change-stop": {
    name: "Stop limit for change",
    value: "2",
    unit: "%",
    meaning:
      "Change from the factor before, same train, beyond which the train is not used until it is checked.",
    origin: "Common practice, no source.",
  },
  halves: {
    name: "Left and right half",
    value: "1",
    unit: "%",
    meaning: "Largest difference between the factors of the two halves of the scale.",
    origin: "Common practice, no source.",
  },
  field: {
    name: "Middle and ends",
    value: "1",
    unit: "%",
    meaning: "Largest difference between the factor at both ends of the scale and in its middle.",
    origin: "Common practice, no source.",
  },
  offset: {
    name: "Readings start from zero",
    value: "1",
    unit: "%",
    meaning: "Largest offset that all readings share whatever the span, relative to the longest span.",
    origin: "Common practice, no source.",
  },
  agreement: {
    name: "Agreement with the factor before",
    value: "1",
    unit: "1",
    meaning: "Largest |E_n| against the factor before, with the part both share taken out.",
    origin: "ISO 13528:2015 9.7 and ISO/IEC 17043, from memory.",
  },
};

/** The limits in use, as decimals in their units. */
export type Limits = Readonly<Record<LimitKey, Decimal>>;

/** The proposals, with any limits of one's own in their place. @throws InputError `limits.<key>` */
export function limitsWith(own: Partial<Record<LimitKey, Decimal>> = {}): Limits {
  const limit = (key: LimitKey): Decimal =>
    requirePositive(`limits.${key}`, own[key] ?? decimal(PROPOSED_LIMITS[key].value));
  const limits: Limits = {
    span: limit("span"),
    "relative-deviation": limit("relative-deviation"),
    range: limit("range"),
    "nominal-deviation": limit("nominal-deviation"),
    "change-investigate": limit("change-investigate"),
    "change-stop": limit("change-stop"),
    halves: limit("halves"),
    field: limit("field"),
    offset: limit("offset"),
    agreement: limit("agreement"),
  };
  if (limits["change-stop"].lessThan(limits["change-investigate"])) {
    throw new InputError(
      "limits.change-stop",
      "must not be less than the change at which the cause is looked for",
    );
  }
  return limits;
}
