import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";
import { formatToPlaces, type RoundingRule } from "../quantity/rounding.ts";
import { type PercentileType, percentile } from "../statistics/percentile.ts";
import { mean, memberAt, sorted } from "../statistics/sample.ts";
import { quotientStatistics, requireSpores, type Spore, sporeVolume } from "./spore-quotient.ts";

/** The choices that differ between houses; all of them are printed with the string or on its sheet. */
export interface SporeStringChoices {
  /** Percentiles of the inner range, e.g. 5 and 95, or 10 and 90. */
  readonly lowerPercentile: number;
  readonly upperPercentile: number;
  readonly percentileType: PercentileType;
  /** Digits after the point of L and W, and of Q. */
  readonly places: number;
  readonly quotientPlaces: number;
  readonly rounding: RoundingRule;
  /** Text with tokens in braces; `SPORE_TOKENS` lists them. */
  readonly template: string;
}

/** `{L}`, `{W}`, `{Q}` are ranges `(least–) low–high (–greatest)`; `{inner}` names their percentiles; `{Lm}` … are means; the rest is what the sheet says. */
export const SPORE_TOKENS = [
  "L",
  "W",
  "Q",
  "Lm",
  "Wm",
  "Qm",
  "Vm",
  "n",
  "inner",
  "medium",
  "origin",
  "state",
] as const;
export type SporeToken = (typeof SPORE_TOKENS)[number];

/** What the sheet says about the spores: mounting medium, print or gill, live or dried. */
export interface SporeRemarks {
  readonly medium?: string;
  readonly origin?: string;
  readonly state?: string;
}

/**
 * `(k–) m–n (–p)`: least, 5th percentile, 95th percentile, greatest, after R. E. Tulloss and J. E. Lindgren, Mycotaxon 91
 * (2005), 193–194. The type of the percentile is not said there; 7 is a choice. 10 and 90 are common practice, no source.
 */
export const DEFAULT_SPORE_STRING: SporeStringChoices = {
  lowerPercentile: 5,
  upperPercentile: 95,
  percentileType: 7,
  places: 1,
  quotientPlaces: 2,
  rounding: "half-even",
  template: "{L} × {W} µm, Q = {Q}, Qm = {Qm}, n = {n}, inner range {inner}",
};

function requireChoices(choices: SporeStringChoices): void {
  const { lowerPercentile: lower, upperPercentile: upper } = choices;
  if (!(lower >= 0 && lower < upper)) {
    throw new InputError("lowerPercentile", "must be 0 or more and below the upper percentile");
  }
  if (!(upper <= 100)) throw new InputError("upperPercentile", "must be at most 100");
  for (const field of ["places", "quotientPlaces"] as const) {
    const places = choices[field];
    if (!Number.isInteger(places) || places < 0 || places > 10) {
      throw new InputError(field, "must be a whole number from 0 to 10");
    }
  }
}

function rangeOf(values: readonly Decimal[], places: number, choices: SporeStringChoices): string {
  const rising = sorted(values);
  const at = (share: number) => percentile(rising, decimal(share).div(100), choices.percentileType).value;
  const shown = (value: Decimal) => formatToPlaces(value, places, choices.rounding);
  const least = shown(memberAt(rising, 0));
  const most = shown(memberAt(rising, rising.length - 1));
  return `(${least}–) ${shown(at(choices.lowerPercentile))}–${shown(at(choices.upperPercentile))} (–${most})`;
}

/** The percentiles of the inner range, as the string names them. */
export const innerRange = (lower: number, upper: number): string => `${lower}–${upper} %`;

function isToken(text: string): text is SporeToken {
  return (SPORE_TOKENS as readonly string[]).includes(text);
}

function remarkOf(field: keyof SporeRemarks, remarks: SporeRemarks): string {
  const text = remarks[field]?.trim();
  if (!text) throw new InputError(field, `is empty, but the report string asks for {${field}}`);
  return text;
}

function textOfToken(
  token: SporeToken,
  spores: readonly Spore[],
  choices: SporeStringChoices,
  remarks: SporeRemarks,
): string {
  const lengths = () => spores.map((spore) => spore.length);
  const widths = () => spores.map((spore) => spore.width);
  switch (token) {
    case "L":
      return rangeOf(lengths(), choices.places, choices);
    case "W":
      return rangeOf(widths(), choices.places, choices);
    case "Q":
      return rangeOf(quotientStatistics(spores).quotients, choices.quotientPlaces, choices);
    case "Lm":
      return formatToPlaces(mean(lengths()), choices.places, choices.rounding);
    case "Wm":
      return formatToPlaces(mean(widths()), choices.places, choices.rounding);
    case "Qm":
      return formatToPlaces(quotientStatistics(spores).mean, choices.quotientPlaces, choices.rounding);
    case "Vm":
      return formatToPlaces(mean(spores.map(sporeVolume)), 0, choices.rounding);
    case "n":
      return String(spores.length);
    case "inner":
      return innerRange(choices.lowerPercentile, choices.upperPercentile);
    default:
      return remarkOf(token, remarks);
  }
}

/**
 * The report string of a sample of spores.
 * @throws InputError when there is no spore, a choice is out of range, or the template names a token that does not
 *   exist or a remark that was not given
 */
export function sporeString(
  spores: readonly Spore[],
  choices: SporeStringChoices = DEFAULT_SPORE_STRING,
  remarks: SporeRemarks = {},
): string {
  requireSpores(spores);
  requireChoices(choices);
  return choices.template.replaceAll(/\{([^{}]*)\}/g, (_, token: string) => {
    if (isToken(token)) return textOfToken(token, spores, choices, remarks);
    const known = SPORE_TOKENS.map((name) => `{${name}}`).join(" ");
    throw new InputError("template", `has an unknown token {${token}}; known are ${known}`);
  });
}
