import type { DensityRecord } from "../../contract/records/tally-results.ts";
import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { requirePositive } from "../../quantity/input-error.ts";
import { type RoundingRule, reportWithUncertainty, roundToSignificant } from "../../quantity/rounding.ts";
import { zeroCountUpperLimit } from "../intervals/poisson-interval.ts";
import type { Density } from "./density.ts";

/** A density as it may be printed. A count of zero is never a plain 0. */
export type ReportedDensity =
  | { readonly kind: "value"; readonly text: string; readonly value: string; readonly uncertainty: string }
  | { readonly kind: "less-than"; readonly text: string; readonly limit: Decimal; readonly basis: string };

export interface ReportChoices {
  readonly rounding: RoundingRule;
  /** The method's own limit of detection in the density's unit; it takes the place of the limit from the count. */
  readonly limitOfDetection?: Decimal;
  /** ± even where it reaches below nothing: how earlier versions printed it. */
  readonly symmetric?: boolean;
}

function lessThan(limit: Decimal, unit: string, basis: string): ReportedDensity {
  // A limit is rounded up: “less than” must stay true.
  const shown = limit.toSignificantDigits(2, 0).toFixed();
  return { kind: "less-than", text: `< ${shown} ${unit} (${basis})`, limit, basis };
}

/**
 * A density in words: the value with U, “less than” the method's limit of detection when it lies below, or, when
 * nothing was counted, less than 2.996 objects' worth (95 % one-sided, −ln 0.05).
 */
export function reportDensity(
  density: Density,
  choices: ReportChoices = { rounding: "half-even" },
): ReportedDensity {
  const { limitOfDetection } = choices;
  if (limitOfDetection) {
    requirePositive("limitOfDetection", limitOfDetection);
    if (density.value.lessThan(limitOfDetection)) {
      return lessThan(limitOfDetection, density.unit, "limit of detection of the method");
    }
  }
  if (density.expanded === null) {
    const limit = density.perObject.times(decimal(zeroCountUpperLimit(0.95)));
    return lessThan(limit, density.unit, "95 % one-sided, none counted");
  }
  const told = { ...density, expanded: density.expanded };
  const words = choices.symmetric ? plusMinus(told, choices.rounding) : valueWords(told, choices.rounding);
  return { kind: "value", ...words };
}

/**
 * Limits of a density by its count alone, each to two significant digits: `19 to 260 /mL`. They are not symmetric, and for
 * a rare thing they say more than ±.
 */
export function limitsWords({ lower, upper, unit }: Limits, rounding: RoundingRule = "half-even"): string {
  const text = (limit: Decimal) => roundToSignificant(limit, 2, rounding).toFixed();
  return `${text(lower)} to ${text(upper)} ${unit}`;
}

/** `limitsWords` of a density as frozen; null where “less than” stands, which is a limit itself. */
export function limitsOfRecord({ lower, upper, unit, lessThan }: DensityRecord): string | null {
  return lessThan === null ? limitsWords({ lower: decimal(lower), upper: decimal(upper), unit }) : null;
}

type Limits = Pick<Density, "lower" | "upper" | "unit">;
type Told = Limits & Pick<Density, "value" | "coverageFactor"> & { readonly expanded: Decimal };

interface ValueWords {
  readonly text: string;
  readonly value: string;
  readonly uncertainty: string;
}

function plusMinus(told: Told, rounding: RoundingRule): ValueWords {
  const { value, uncertainty } = reportWithUncertainty(told.value, told.expanded, rounding);
  const k = roundToSignificant(told.coverageFactor, 3, rounding).toFixed();
  return { text: `${value} ± ${uncertainty} ${told.unit} (k = ${k})`, value, uncertainty };
}

/** The value with U; where ± U would reach below nothing, with the limits of the count in its place. */
export function valueWords(told: Told, rounding: RoundingRule): ValueWords {
  const words = plusMinus(told, rounding);
  if (told.expanded.lessThan(told.value)) return words;
  const value = roundToSignificant(told.value, 2, rounding).toFixed();
  return { ...words, text: `${value} ${told.unit} (95 %: ${limitsWords(told, rounding)})`, value };
}
