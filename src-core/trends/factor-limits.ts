import { type Decimal, ONE } from "../quantity/decimal.ts";
import { InputError, requireFinite, requireNotNegative } from "../quantity/input-error.ts";
import { contains, type Interval, intervalAround, twoSidedStudent } from "../statistics/interval.ts";
import { mean, requireSample, requireWhole, standardDeviation } from "../statistics/sample.ts";
import type { LimitKind } from "../vocabulary/trends.ts";
import type { RangeConstants } from "./chart-constants.ts";
import { individualsChart } from "./individuals-chart.ts";

const LEAST_FOR_FROZEN = 20;

export function limitKind(n: number): LimitKind {
  requireWhole("n", n, 1);
  if (n === 1) return "tolerance";
  if (n === 2) return "pair";
  if (n <= 7) return "prediction";
  return n < LEAST_FOR_FROZEN ? "preliminary" : "frozen";
}

/**
 * K(n) = t((1 + p)/2, n − 1)·√(1 + 1/n): one further value lies within x̄ ± K·s with probability p (Hahn and Meeker,
 * Statistical Intervals, prediction interval for one observation).
 */
export function predictionFactor(n: number, level: number): Decimal {
  requireWhole("n", n, 2);
  return twoSidedStudent(level, n - 1).times(ONE.plus(ONE.div(n)).sqrt());
}

export interface FactorLimits {
  readonly kind: LimitKind;
  /** Points the limits were computed from. */
  readonly n: number;
  readonly centre: Decimal;
  /** Prediction limits at 95 %; null for the other kinds. */
  readonly warning: Interval | null;
  /** Prediction limits at 99 %, or 3σ of the chart; null below three points or when the points show no scatter. */
  readonly action: Interval | null;
  /** First factor ± 3·u of one occasion from its budget: valid from the first point. */
  readonly aPriori: Interval;
  /** Largest jump between neighbours; null without a chart. */
  readonly rangeLimit: Decimal | null;
  /** σ of the chart, for the run rules; null without a chart. */
  readonly sigma: Decimal | null;
}

export interface LimitsInput {
  /** Factors of one baseline in order of time, those with an assigned cause left out. */
  readonly values: readonly Decimal[];
  /** u_occ of the first calibration: the part of its uncertainty that is fresh each time. */
  readonly occasionUncertainty: Decimal;
  readonly constants?: RangeConstants;
  /** How many points the frozen limits rest on, when a recorded decision froze them anew; 20 otherwise. */
  readonly frozenAt?: number;
}

/**
 * Limits for the next value of a factor's history, by the number of points it has.
 * @throws InputError when there is no value, or `frozenAt` is below 20 or above the number of values
 */
export function factorLimits({
  values,
  occasionUncertainty,
  constants = "table",
  frozenAt = LEAST_FOR_FROZEN,
}: LimitsInput): FactorLimits {
  requireSample("values", values, 1);
  requireNotNegative("occasionUncertainty", occasionUncertainty);
  requireWhole("frozenAt", frozenAt, LEAST_FOR_FROZEN);
  const kind = limitKind(values.length);
  if (kind === "frozen" && frozenAt > values.length) {
    throw new InputError("frozenAt", `must be at most the number of values, ${values.length}`);
  }
  const used = kind === "frozen" ? values.slice(0, frozenAt) : values;
  const [first] = values as readonly [Decimal, ...Decimal[]];
  const base: FactorLimits = {
    kind,
    n: used.length,
    centre: mean(used),
    warning: null,
    action: null,
    aPriori: intervalAround(first, occasionUncertainty.times(3)),
    rangeLimit: null,
    sigma: null,
  };
  if (kind === "tolerance" || kind === "pair") return base;
  if (kind === "prediction") {
    const deviation = standardDeviation(used);
    if (deviation.isZero()) return base;
    const around = (level: number) =>
      intervalAround(base.centre, predictionFactor(used.length, level).times(deviation));
    return { ...base, warning: around(0.95), action: around(0.99) };
  }
  const chart = individualsChart(used, constants);
  if (chart.sigma.isZero()) return base;
  return { ...base, action: chart.limits, rangeLimit: chart.rangeLimit, sigma: chart.sigma };
}

export interface LimitVerdict {
  /** `action`: outside the a-priori or the action limits; `warning`: outside the warning limits only. */
  readonly level: "within" | "warning" | "action";
  readonly outsideAPriori: boolean;
  readonly outsideAction: boolean;
}

/** Where a new value lies against the limits of the history before it. */
export function judgeAgainst(limits: FactorLimits, value: Decimal): LimitVerdict {
  requireFinite("value", value);
  const outsideAPriori = !contains(limits.aPriori, value);
  const outsideAction = limits.action !== null && !contains(limits.action, value);
  const outsideWarning = limits.warning !== null && !contains(limits.warning, value);
  const level = outsideAPriori || outsideAction ? "action" : outsideWarning ? "warning" : "within";
  return { level, outsideAPriori, outsideAction };
}
