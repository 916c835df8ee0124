import {
  blankChance,
  blankLimit,
  charted,
  differenceLimit,
  predictionLimits,
} from "#core/counting/controls/control-limits.ts";
import { relativeDifference } from "#core/counting/controls/recovery.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { type NormalChance, normalChance } from "./normal-chance.ts";

/** Of a Poisson distribution, by multiplying. */
function poisson(mean: number, { uniform }: NormalChance): number {
  const end = Math.exp(-mean);
  let [n, product] = [0, uniform()];
  while (product > end) {
    product *= uniform();
    n += 1;
  }
  return n;
}

export interface ControlModel {
  readonly kind: "blank" | "recovery" | "duplicate";
  /** Objects expected in one count; of each in turn. */
  readonly means: readonly number[];
  /** Relative scatter of preparation beyond chance. */
  readonly extra: number;
}

export interface ControlRates {
  /** Of the results that had limits, with nothing wrong. */
  readonly alarms: number;
  /** Of series of twenty, in which at least one was named. */
  readonly series: number;
  /** Of the last one where that is wrong by the factor. */
  readonly found: number;
}

function beyondOf(
  kind: ControlModel["kind"],
  counts: readonly (readonly [number, number, number])[],
): (boolean | null)[] {
  const named = <T, L>(all: ReturnType<typeof charted<T, L>>) =>
    all.map(({ limits, isBeyond }) => (limits === null ? null : isBeyond));
  if (kind === "blank") {
    const areas = counts.map(([n]) => ({ objects: decimal(n), areas: 10 }));
    return named(
      charted(
        areas,
        (before) => (before.length === 0 ? null : before),
        (one, before) => blankChance(before, one) <= 0.01,
      ),
    );
  }
  if (kind === "recovery") {
    const found = counts.map(([n, , mean]) => decimal((100 * n) / mean));
    return named(
      charted(
        found,
        predictionLimits,
        (one, { lower, upper }) => one.lessThan(lower) || one.greaterThan(upper),
      ),
    );
  }
  const pairs = counts
    .map(([a, b]) => relativeDifference(decimal(a), decimal(b)))
    .filter((one): one is Decimal => one !== null);
  return named(charted(pairs, differenceLimit, (one, limit) => one.abs().greaterThan(limit)));
}

/** Series of twenty control samples with nothing wrong, and the same with the last one `wrong` times as many. */
export function controlRates(
  { kind, means, extra }: ControlModel,
  wrong: number,
  trials: number,
  seed: number,
): ControlRates {
  const chance = normalChance(seed);
  let [limited, alarms, series, found] = [0, 0, 0, 0];
  for (let trial = 0; trial < trials; trial += 1) {
    const draw = (mean: number): number => poisson(Math.max(0, mean * (1 + extra * chance.normal())), chance);
    const counts = Array.from({ length: 20 }, (_, i) => {
      const mean = means[i % means.length] ?? 0;
      return [draw(mean), draw(mean), mean] as const;
    });
    const beyond = beyondOf(kind, counts);
    limited += beyond.filter((one) => one !== null).length;
    const named = beyond.filter((one) => one === true).length;
    alarms += named;
    if (named > 0) series += 1;
    const mean = means[19 % means.length] ?? 0;
    const last = [draw(mean * wrong), draw(mean), mean] as const;
    if (beyondOf(kind, [...counts.slice(0, 19), last]).at(-1)) found += 1;
  }
  return { alarms: alarms / limited, series: series / trials, found: found / trials };
}

/** The limit that is drawn is the one that decides. */
export const limitAgrees = (objects: number, before: number): boolean => {
  const earlier = [{ objects: decimal(before), areas: 30 }];
  const most = blankLimit(earlier, 10);
  return (
    most !== null &&
    decimal(objects).greaterThan(most) ===
      blankChance(earlier, { objects: decimal(objects), areas: 10 }) <= 0.01
  );
};
