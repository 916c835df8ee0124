import type { CountResults, DensityRecord } from "../../contract/records/count-results.ts";
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
  /** Limits in place of ± where the upper one reaches much further than + U: fields that differ strongly. */
  readonly skewed?: boolean;
}

function lessThan(limit: Decimal, unit: string, basis: string): ReportedDensity {
  // A limit is rounded up: “less than” must stay true.
  const shown = limit.toSignificantDigits(2, 0).toFixed();
  return { kind: "less-than", text: `< ${shown} ${unit} (${basis})`, limit, basis };
}

/**
 * A density in words: the value with U, “less than” the method's limit of detection when it lies below, or, when
 * nothing was counted, less than 2.996 objects' worth (95 % one-sided, −ln 0.05); more of them beside few marker spores.
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
    const objects = density.evidence.noneCounted ?? zeroCountUpperLimit(0.95);
    const limit = density.perObject.times(decimal(objects));
    return lessThan(limit, density.unit, "95 % one-sided, none counted");
  }
  const reported = { ...density, expanded: density.expanded };
  const { rounding, symmetric, skewed } = choices;
  const words = symmetric ? plusMinus(reported, rounding) : valueWords(reported, rounding, skewed);
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

/** What the limits of the densities of a count rest on. */
export function limitsTitle({
  countRule,
  densities,
}: Pick<CountResults, "countRule" | "densities">): "95 % of both counts" | "95 % of the count alone" {
  const byMarker = densities.some(({ components }) => components.some(({ key }) => key === "marker"));
  return byMarker && countRule === "skewed-limits" ? "95 % of both counts" : "95 % of the count alone";
}

/** `limitsWords` of a density as frozen; null where “less than” stands, which is a limit itself. */
export function limitsOfRecord({ lower, upper, unit, lessThan }: DensityRecord): string | null {
  return lessThan === null ? limitsWords({ lower: decimal(lower), upper: decimal(upper), unit }) : null;
}

type Limits = Pick<Density, "lower" | "upper" | "unit">;
type Reported = Limits & Pick<Density, "value" | "coverageFactor"> & { readonly expanded: Decimal };

interface ValueWords {
  readonly text: string;
  readonly value: string;
  readonly uncertainty: string;
}

function plusMinus(reported: Reported, rounding: RoundingRule): ValueWords {
  const { value, uncertainty } = reportWithUncertainty(reported.value, reported.expanded, rounding);
  const k = roundToSignificant(reported.coverageFactor, 3, rounding).toFixed();
  return { text: `${value} ± ${uncertainty} ${reported.unit} (k = ${k})`, value, uncertainty };
}

/** An upper limit that lies this much further off than U: ± would say too little. A choice. */
const MUCH_FURTHER = 1.2;

/**
 * The value with U; with the limits of the count in its place where ± U would reach below nothing and, where `skewed`, where
 * the upper limit lies much further off than U.
 */
export function valueWords(reported: Reported, rounding: RoundingRule, skewed = false): ValueWords {
  const words = plusMinus(reported, rounding);
  const isSkewed =
    skewed && reported.upper.minus(reported.value).greaterThan(reported.expanded.times(MUCH_FURTHER));
  if (reported.expanded.lessThan(reported.value) && !isSkewed) return words;
  const value = roundToSignificant(reported.value, 2, rounding).toFixed();
  return { ...words, text: `${value} ${reported.unit} (95 %: ${limitsWords(reported, rounding)})`, value };
}
