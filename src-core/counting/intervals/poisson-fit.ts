import { InputError } from "../../quantity/input-error.ts";
import { chiSquaredUpperP } from "../../statistics/distributions.ts";
import { requireWholeCount } from "./count-checks.ts";

/** Fewest objects expected in a class of the test. */
const LEAST_EXPECTED = 5;

interface FitClass {
  readonly observed: number;
  readonly expected: number;
}

export interface PoissonFit {
  readonly mean: number;
  /** Pearson's Σ(observed − expected)²/expected over the pooled classes. */
  readonly statistic: number;
  /** Classes less one, less one for the fitted mean. */
  readonly degreesOfFreedom: number;
  readonly p: number;
  readonly classes: number;
}

/** Expected numbers of fields with 0, 1, 2 … objects, the last class open upwards. */
function expectedClasses(fields: number, mean: number, frequencies: readonly number[]): FitClass[] {
  let probability = Math.exp(-mean);
  let left = 1;
  return frequencies.map((observed, count) => {
    const open = count === frequencies.length - 1;
    const share = open ? left : probability;
    left -= probability;
    probability *= mean / (count + 1);
    return { observed, expected: fields * Math.max(0, share) };
  });
}

/** Joins classes from one end until each expects enough; a remainder joins its neighbour. */
function pooled(classes: readonly FitClass[]): FitClass[] {
  const done: FitClass[] = [];
  let open: FitClass = { observed: 0, expected: 0 };
  for (const entry of classes) {
    open = { observed: open.observed + entry.observed, expected: open.expected + entry.expected };
    if (open.expected < LEAST_EXPECTED) continue;
    done.push(open);
    open = { observed: 0, expected: 0 };
  }
  const last = done.pop();
  if (!last) return [open];
  return [...done, { observed: last.observed + open.observed, expected: last.expected + open.expected }];
}

/**
 * Do field counts follow a Poisson distribution? Pearson's χ² of the numbers of fields with 0, 1, 2 … objects, the last
 * class open, classes joined until each expects 5 fields; from memory, any statistics text. Null when too few classes
 * remain.
 * @param frequencies fields with 0, 1, 2 … objects
 * @throws InputError when a frequency is not whole or nothing was counted
 */
export function poissonFit(frequencies: readonly number[]): PoissonFit | null {
  frequencies.forEach((fields, count) => {
    requireWholeCount(`frequencies.${count}`, fields);
  });
  const fields = frequencies.reduce((sum, number) => sum + number, 0);
  const total = frequencies.reduce((sum, number, count) => sum + number * count, 0);
  if (fields === 0 || total === 0)
    throw new InputError("frequencies", "must hold at least one object in a field");
  const mean = total / fields;
  const classes = pooled(expectedClasses(fields, mean, frequencies));
  const degreesOfFreedom = classes.length - 2;
  if (degreesOfFreedom < 1) return null;
  const statistic = classes.reduce(
    (sum, { observed, expected }) => sum + (observed - expected) ** 2 / expected,
    0,
  );
  return {
    mean,
    statistic,
    degreesOfFreedom,
    p: chiSquaredUpperP(statistic, degreesOfFreedom),
    classes: classes.length,
  };
}
