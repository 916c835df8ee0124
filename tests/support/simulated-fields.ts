import { densityOf } from "#core/counting/densities/density.ts";
import { reportDensity } from "#core/counting/densities/reported-density.ts";
import { evidenceOfFields } from "#core/counting/intervals/count-evidence.ts";
import { exactly } from "#core/quantity/uncertain-product.ts";
import type { CountRule } from "#core/vocabulary/counting.ts";

/** How objects lie over fields: a mean per field, and the exponent of a negative binomial; null: at random (Poisson). */
export interface FieldModel {
  readonly mean: number;
  readonly exponent: number | null;
}

export type Uniform = () => number;

/** Mulberry32: the same fields on every machine. */
export function uniformFrom(seed: number): Uniform {
  let state = (seed * 0x9e3779b9) >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

const normal = (uniform: Uniform): number =>
  Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());

/** Gamma of a shape and scale 1: G. Marsaglia and W. W. Tsang, ACM Trans. Math. Softw. 26 (2000) 363; from memory. */
function gamma(shape: number, uniform: Uniform): number {
  if (shape < 1) return gamma(shape + 1, uniform) * (1 - uniform()) ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(uniform);
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(1 - uniform()) < x ** 2 / 2 + d - d * v + d * Math.log(v)) return d * v;
  }
}

/** Waiting times until the mean is used up: slow for large means, but right for all. */
function poisson(mean: number, uniform: Uniform): number {
  let count = -1;
  let spent = 0;
  while (spent <= mean) {
    spent -= Math.log(1 - uniform());
    count += 1;
  }
  return count;
}

/** Counts of `number` fields; a negative binomial is a Poisson count whose mean is itself drawn, from a gamma. */
export function drawnFields(model: FieldModel, number: number, uniform: Uniform): number[] {
  const { mean, exponent } = model;
  return Array.from({ length: number }, () =>
    poisson(exponent === null ? mean : (mean * gamma(exponent, uniform)) / exponent, uniform),
  );
}

export interface Coverage {
  /** Shares of trials whose value ± U, and whose limits of the count, hold the true density. */
  readonly byU: number;
  readonly byLimits: number;
  /** The same of what is printed: ± or, in its place, the limits. */
  readonly asPrinted: number;
  /** Mean of U over the value. */
  readonly width: number;
  /** Trials in which something was counted. */
  readonly trials: number;
}

/** How often a density of simulated fields holds the truth; trials without an object are left out and reported so. */
export function coverageOfFields(
  model: FieldModel,
  number: number,
  { trials, seed, rule }: { readonly trials: number; readonly seed: number; readonly rule: CountRule },
): Coverage {
  const uniform = uniformFrom(seed);
  const perObject = exactly("perObject", "1", "");
  const truth = model.mean * number;
  const found = { byU: 0, byLimits: 0, asPrinted: 0, width: 0, trials: 0 };
  for (let trial = 0; trial < trials; trial += 1) {
    const evidence = evidenceOfFields(drawnFields(model, number, uniform), 0.95, rule);
    const density = densityOf(evidence, perObject, rule === "clustered-only" ? "k2" : "t95");
    if (density.expanded === null) continue;
    found.trials += 1;
    const expanded = density.expanded.toNumber();
    const byU = Math.abs(evidence.total - truth) <= expanded;
    const byLimits = evidence.lower <= truth && truth <= evidence.upper;
    const skewed = rule === "skewed-limits" && evidence.basis === "between-fields";
    const printed = reportDensity(density, {
      rounding: "half-even",
      symmetric: rule === "clustered-only",
      skewed,
    });
    if (byU) found.byU += 1;
    if (byLimits) found.byLimits += 1;
    if (printed.text.includes("±") ? byU : byLimits) found.asPrinted += 1;
    found.width += expanded / evidence.total;
  }
  const share = (sum: number) => sum / found.trials;
  return {
    byU: share(found.byU),
    byLimits: share(found.byLimits),
    asPrinted: share(found.asPrinted),
    width: share(found.width),
    trials: found.trials,
  };
}
