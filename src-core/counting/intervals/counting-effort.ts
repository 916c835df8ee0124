import { InputError } from "../../quantity/input-error.ts";
import { normalQuantile } from "../../statistics/distributions.ts";
import { requireFields, requireLevel } from "./count-checks.ts";
import { fieldScatter } from "./field-scatter.ts";
import { garwoodInterval } from "./poisson-interval.ts";

export const EFFORT_RULES = ["normal", "garwood-half-width", "garwood-upper"] as const;
/** What “± r” means: z/√c ≤ r, half the width of Garwood's interval ≤ r·c, or its longer, upper side ≤ r·c. */
export type EffortRule = (typeof EFFORT_RULES)[number];

function requireRelative(relative: number): number {
  if (!(relative > 0 && relative <= 2)) {
    throw new InputError("relative", "must be greater than 0 and at most 2 (200 %)");
  }
  return relative;
}

function zOf(level: number): number {
  return normalQuantile(1 - (1 - requireLevel(level)) / 2);
}

/** (z/r)², not rounded: the count at which z/√c = r. */
export function normalCountFor(relative: number, level = 0.95): number {
  return (zOf(level) / requireRelative(relative)) ** 2;
}

function widthBy(rule: EffortRule, count: number, level: number): number {
  const { lower, upper } = garwoodInterval(count, level);
  return (rule === "garwood-upper" ? upper - count : (upper - lower) / 2) / count;
}

/**
 * Smallest whole count that fixes its mean to ± r at the level, for objects spread at random.
 * @throws InputError when r is not in (0, 2] or the level not inside (0, 1)
 */
export function countNeeded(relative: number, rule: EffortRule = "garwood-half-width", level = 0.95): number {
  const normal = Math.ceil(normalCountFor(relative, level));
  if (rule === "normal") return normal;
  // The relative width falls as the count grows: bracket, then halve.
  let below = 0;
  let enough = normal + 16;
  while (widthBy(rule, enough, level) > relative) {
    below = enough;
    enough *= 2;
  }
  while (enough - below > 1) {
    const middle = Math.floor((below + enough) / 2);
    if (widthBy(rule, middle, level) <= relative) enough = middle;
    else below = middle;
  }
  return enough;
}

/** Objects still to be counted for ± r, 0 when there are enough. */
export function objectsStillNeeded(
  counted: number,
  relative: number,
  rule: EffortRule = "garwood-half-width",
  level = 0.95,
): number {
  return Math.max(0, countNeeded(relative, rule, level) - Math.floor(counted));
}

export interface FieldsNeeded {
  /** (z·s/(r·x̄))², not rounded: fields in all. */
  readonly exact: number;
  readonly inAll: number;
  readonly stillNeeded: number;
}

/**
 * Fields needed for ± r of the mean, from the scatter seen so far: n = (z·s/(r·x̄))². Null when nothing was counted yet.
 * @throws InputError for fewer than 2 fields
 */
export function fieldsNeeded(counts: readonly number[], relative: number, level = 0.95): FieldsNeeded | null {
  requireFields(counts, 2);
  requireRelative(relative);
  const z = zOf(level);
  const { mean, variance } = fieldScatter(counts);
  if (mean === 0) return null;
  const exact = (z * z * (variance ?? 0)) / (relative * mean) ** 2;
  const inAll = Math.max(2, Math.ceil(exact));
  return { exact, inAll, stillNeeded: Math.max(0, inAll - counts.length) };
}

/**
 * z²·p(1 − p)/E², not rounded: objects to classify so that a proportion near p is known to ± E.
 * @throws InputError when p is not in [0, 1] or E not in (0, 1]
 */
export function objectsForProportion(proportion: number, halfWidth: number, level = 0.95): number {
  if (!(proportion >= 0 && proportion <= 1)) throw new InputError("proportion", "must be from 0 to 1");
  if (!(halfWidth > 0 && halfWidth <= 1)) {
    throw new InputError("halfWidth", "must be greater than 0 and at most 1");
  }
  return (zOf(level) ** 2 * proportion * (1 - proportion)) / halfWidth ** 2;
}
