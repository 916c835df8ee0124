import { InputError } from "../quantity/input-error.ts";
import type { Ends, Simulated } from "./monte-carlo.ts";

/** The result by JCGM 100 that is held against the trials, in its own unit. */
export interface GumResult {
  readonly estimate: number;
  readonly standard: number;
  readonly expanded: number;
}

/** `unclear`: an end lies so near to δ that this many trials cannot tell. */
export type ValidationOutcome = "validated" | "not-validated" | "unclear";

export interface IntervalValidation {
  readonly interval: Ends;
  /** δ, in the unit of the result. */
  readonly tolerance: number;
  /** |y − U − y_low| and |y + U − y_high|. */
  readonly difference: Ends;
  readonly outcome: ValidationOutcome;
  /** For people; numbers are not in them. */
  readonly words: string;
}

/** Our own choice: an end is told from δ when it lies two standard uncertainties of the simulation away. */
const CLEARLY = 2;

/**
 * Numerical tolerance δ of a standard uncertainty: with u = c·10^l and c a whole number of `digits` digits,
 * δ = ½·10^l, JCGM 101:2008 7.9.2. For u = 0.0326 and two digits 0.0005.
 * @throws InputError `standard` when not greater than zero
 */
export function numericalTolerance(standard: number, digits = 2): number {
  if (!(standard > 0)) throw new InputError("standard", "must be greater than zero");
  const exponent = Number(standard.toExponential(digits - 1).split("e")[1]);
  return Number(`0.5e${exponent - digits + 1}`);
}

/**
 * Whether the interval y ± U is validated by the trials: both its ends agree with the simulated ones within δ,
 * JCGM 101:2008 8.1.
 */
export function validateInterval(gum: GumResult, simulated: Simulated): IntervalValidation {
  const { symmetric, endUncertainty } = simulated;
  const tolerance = numericalTolerance(gum.standard);
  const interval = { low: gum.estimate - gum.expanded, high: gum.estimate + gum.expanded };
  const difference = {
    low: Math.abs(interval.low - symmetric.low),
    high: Math.abs(interval.high - symmetric.high),
  };
  const ends = ["low", "high"] as const;
  const clearlyOut = ends.some((end) => difference[end] - CLEARLY * endUncertainty[end] > tolerance);
  const clearlyIn = ends.every((end) => difference[end] + CLEARLY * endUncertainty[end] <= tolerance);
  const outcome = clearlyOut ? "not-validated" : clearlyIn ? "validated" : "unclear";
  return { interval, tolerance, difference, outcome, words: wordsOf(outcome, interval, symmetric) };
}

function wordsOf(outcome: ValidationOutcome, interval: Ends, symmetric: Ends): string {
  if (outcome === "validated") return "The GUM interval is validated: both its ends agree within δ.";
  if (outcome === "unclear") {
    return "Not decided: an end lies so near to δ that this many trials cannot tell whether it agrees.";
  }
  const ratio = (symmetric.high - symmetric.low) / (interval.high - interval.low);
  const percent = Math.abs(ratio - 1) * 100;
  const how =
    percent < 0.5
      ? "has the same width and lies elsewhere"
      : `is ${percent < 9.95 ? percent.toFixed(1) : percent.toFixed(0)} % ${ratio > 1 ? "wider" : "narrower"}`;
  const advice = ratio > 1.005 ? "U states too little." : ratio < 0.995 ? "U is on the safe side." : "";
  return `The GUM interval is not validated: the simulated interval ${how}. ${advice}`.trim();
}
