import { type Decimal, decimal, sumOf } from "../quantity/decimal.ts";
import { fQuantile } from "../statistics/distributions.ts";
import type { RepeatabilityOrigin } from "../vocabulary/repeatability-origin.ts";

/** How well one setting repeats, learnt before this calibration. */
export interface PooledRepeatability {
  /** s_p of one setting, both edges, div. */
  readonly deviation: Decimal;
  /** ν_p. */
  readonly degreesOfFreedom: Decimal;
  readonly origin: RepeatabilityOrigin;
  /** How many calibrations, specimens read repeatedly, or attempts at practice it was pooled from. */
  readonly calibrations: number;
}

/** Until a bench has settings to learn from. Our own choice: a tenth or two at each edge, known as from eleven settings. */
export const DEFAULT_REPEATABILITY: PooledRepeatability = {
  deviation: decimal("0.2"),
  degreesOfFreedom: decimal(10),
  origin: "default",
  calibrations: 0,
};

/** Fewer degrees of freedom say too little of a person or a bench; those of the default are ten. Our own choice. */
export const LEAST_POOLED_DEGREES = 5;

/** From this many settings on their own scatter is taken as it is. Our own choice, held by the coverage bench. */
export const SETTINGS_THAT_STAND_ALONE = 5;

/** How a sample may exceed the pooled scatter by chance: beyond the 95 % point of F it stands alone. */
const LIKE_THE_POOL = 0.95;

/** The scatter of one earlier calibration: s of its readings about the fit, div, with n − 1. */
export interface EarlierScatter {
  readonly deviation: Decimal;
  readonly settings: number;
}

/**
 * s_p = √(Σνᵢsᵢ²/Σνᵢ), ν_p = Σνᵢ of independent series of settings: a pooled estimate as in JCGM 100:2008 4.2.4.
 * Null with fewer than `LEAST_POOLED_DEGREES` degrees of freedom.
 */
export function pooledRepeatability(
  scatters: readonly EarlierScatter[],
  origin: RepeatabilityOrigin,
): PooledRepeatability | null {
  const used = scatters.filter((one) => one.settings >= 2);
  const degrees = used.reduce((sum, one) => sum + one.settings - 1, 0);
  if (degrees < LEAST_POOLED_DEGREES) return null;
  const squares = sumOf(used.map((one) => one.deviation.pow(2).times(one.settings - 1)));
  return {
    deviation: squares.div(degrees).sqrt(),
    degreesOfFreedom: decimal(degrees),
    origin,
    calibrations: used.length,
  };
}

/** The repeatability a budget rests on. */
export interface Repeatability {
  /** s of one setting, div. */
  readonly deviation: Decimal;
  readonly degreesOfFreedom: Decimal;
  /** `settings`: of the calibration's own settings alone. */
  readonly from: "settings" | "pooled" | "both";
}

/**
 * What is known of the scatter of one setting: with one setting the pooled value alone; with two to four the pooled
 * and the sample's variance weighted by their degrees of freedom, since s of so few is often far too small; from five
 * on, or where the sample scatters more than the pooled value explains (F test, 5 %), the sample's own.
 * @param own s of the settings, div
 */
export function repeatabilityOf(settings: number, own: Decimal, pooled: PooledRepeatability): Repeatability {
  if (settings < 2) {
    return { deviation: pooled.deviation, degreesOfFreedom: pooled.degreesOfFreedom, from: "pooled" };
  }
  const degrees = settings - 1;
  const alone = { deviation: own, degreesOfFreedom: decimal(degrees), from: "settings" } as const;
  if (settings >= SETTINGS_THAT_STAND_ALONE) return alone;
  const most = fQuantile(LIKE_THE_POOL, degrees, pooled.degreesOfFreedom.toNumber());
  if (own.pow(2).greaterThan(pooled.deviation.pow(2).times(most))) return alone;
  const together = pooled.degreesOfFreedom.plus(degrees);
  const squares = own.pow(2).times(degrees).plus(pooled.deviation.pow(2).times(pooled.degreesOfFreedom));
  return { deviation: squares.div(together).sqrt(), degreesOfFreedom: together, from: "both" };
}
