import { evenChance } from "./chance-generator.ts";
import type { Draw } from "./input-draw.ts";

/** Two ends in the unit of the result. */
export interface Ends {
  readonly low: number;
  readonly high: number;
}

/** What is drawn, and the result of one trial. */
export interface DrawnModel {
  readonly draws: readonly Draw[];
  /** The result from one value of each draw, in their order. */
  readonly result: (drawn: Float64Array) => number;
  /** False where an input has no standard deviation: a t with ν ≤ 2. The result then has none either. */
  readonly hasDeviation: boolean;
}

export interface SimulationPlan {
  readonly trials: number;
  /** The same seed gives the same numbers. */
  readonly seed: number;
  /** p of the coverage intervals, greater than 0 and less than 1. */
  readonly probability: number;
}

/** What the trials give, in the unit of the result. */
export interface Simulated {
  readonly trials: number;
  /** Mean of the trials, JCGM 101:2008 7.6 eq. (16); null without a standard deviation. */
  readonly estimate: number | null;
  /** Standard deviation of the trials, 7.6 eq. (17). */
  readonly standard: number | null;
  /** Probabilistically symmetric, 7.7. */
  readonly symmetric: Ends;
  /** Shortest, 7.7. */
  readonly shortest: Ends;
  /** Standard uncertainty of either end of `symmetric` that comes from the number of trials. */
  readonly endUncertainty: Ends;
}

/** Trials between two looks at whoever waits: a few milliseconds. */
const SLICE = 5000;

/**
 * Propagation of distributions by trials, JCGM 101:2008 7.2 to 7.7, in binary floats. A generator: gives after every slice
 * the number of trials done, so that the caller can show it, yield or stop.
 */
export function* simulate(model: DrawnModel, plan: SimulationPlan): Generator<number, Simulated, void> {
  const even = evenChance(plan.seed);
  const values = new Float64Array(plan.trials);
  const drawn = new Float64Array(model.draws.length);
  for (let done = 0; done < plan.trials; ) {
    const until = Math.min(plan.trials, done + SLICE);
    for (; done < until; done += 1) {
      model.draws.forEach((draw, i) => {
        drawn[i] = draw(even);
      });
      values[done] = model.result(drawn);
    }
    yield done;
  }
  return summaryOf(values, model.hasDeviation, plan.probability);
}

function summaryOf(values: Float64Array, hasDeviation: boolean, probability: number): Simulated {
  const trials = values.length;
  let sum = 0;
  for (const value of values) sum += value;
  const mean = sum / trials;
  let squares = 0;
  for (const value of values) squares += (value - mean) ** 2;
  values.sort();
  const tail = (1 - probability) / 2;
  const symmetric = { low: orderAt(values, tail), high: orderAt(values, 1 - tail) };
  // By how much the rank of a quantile varies: the number of trials below it is binomial.
  const rank = Math.sqrt(tail * (1 - tail) * trials) / trials;
  const uncertaintyAt = (p: number): number => (orderAt(values, p + rank) - orderAt(values, p - rank)) / 2;
  return {
    trials,
    estimate: hasDeviation ? mean : null,
    standard: hasDeviation ? Math.sqrt(squares / (trials - 1)) : null,
    symmetric,
    shortest: shortestOf(values, probability),
    endUncertainty: { low: uncertaintyAt(tail), high: uncertaintyAt(1 - tail) },
  };
}

/** The value below which the part `p` of the sorted trials lies. */
function orderAt(sorted: Float64Array, p: number): number {
  const rank = Math.round(p * sorted.length) - 1;
  return sorted[Math.min(sorted.length - 1, Math.max(0, rank))] ?? 0;
}

function shortestOf(sorted: Float64Array, probability: number): Ends {
  const within = Math.round(probability * sorted.length);
  let best: Ends = { low: sorted[0] ?? 0, high: sorted[within] ?? 0 };
  for (let i = 1; i + within < sorted.length; i += 1) {
    const low = sorted[i] ?? 0;
    const high = sorted[i + within] ?? 0;
    if (high - low < best.high - best.low) best = { low, high };
  }
  return best;
}
