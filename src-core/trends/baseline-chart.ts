import { type Decimal, decimal, rootSumOfSquares } from "../quantity/decimal.ts";
import { type Interval, intervalAround } from "../statistics/interval.ts";
import { mean, memberAt } from "../statistics/sample.ts";
import { predict } from "../statistics/straight-line.ts";
import { RUN_RULES, type RunRule } from "../vocabulary/trends.ts";
import { type Drift, drift } from "./drift.ts";
import { type FactorLimits, factorLimits, judgeAgainst } from "./factor-limits.ts";
import type { HistoryFactor } from "./history-factor.ts";
import { type MannKendall, mannKendall } from "./mann-kendall.ts";
import { RULE_ROLES, runSignals } from "./run-rules.ts";
import { type StepChange, stepChange } from "./step-change.ts";

/** A step is named when chance alone would show such a one in less than one history of a hundred. */
const STEP_P = 0.01;
const TREND_P = 0.05;
const FROZEN = 20;
/** Beyond this the rank test's pairs are too many to form, and the line has no need of it. */
const MOST_RANKED = 2000;

export interface ChartSignal {
  /** A run rule; `limits`: beyond the limits of the values before it; `jump`: from its neighbour, by the range chart. */
  readonly rule: RunRule | "limits" | "jump";
  readonly weight: "signal" | "hint";
  readonly index: number;
  readonly points: readonly number[];
}

/** What the counting values of one baseline say. Places are from 0 within the baseline. */
export interface BaselineChart {
  readonly limits: FactorLimits;
  /** 95 % prediction limits, or 2σ of the chart. */
  readonly warning: Interval | null;
  readonly action: Interval | null;
  readonly centre: Decimal;
  /** Set when the limits lean with the drift line: they hold on the first day and move by this each day. */
  readonly slopePerDay: Decimal | null;
  readonly levels: readonly ("within" | "warning" | "action")[];
  readonly signals: readonly ChartSignal[];
  readonly drift: Drift | null;
  readonly ranks: MannKendall | null;
  /** The slope may be called a drift, and explains the values better than a step. */
  readonly drifting: boolean;
  /** A change of level within this baseline; null when there is none to be named. */
  readonly step: StepChange | null;
}

/**
 * First factor plus or minus what the budgets allow: the next value lies within the mean of the m before it
 * ± 3·√(u² + Σuⱼ²/m²), u being the parts that are fresh on each occasion. Valid from the second calibration.
 */
function aPrioriFor(ofMean: Decimal, next: HistoryFactor, centre: Decimal): Interval {
  return intervalAround(centre, rootSumOfSquares([next.occasionUncertainty, ofMean]).times(3));
}

/** √(Σuⱼ²)/m of the mean of m values. */
function uncertaintyOfMean(points: readonly HistoryFactor[]): Decimal {
  return rootSumOfSquares(points.map((one) => one.occasionUncertainty)).div(points.length);
}

/** Each value against the limits of those before it; values beyond them do not enter the limits of later ones. */
function levelsInTurn(points: readonly HistoryFactor[]): BaselineChart["levels"] {
  const accepted: HistoryFactor[] = [];
  let frozen: { readonly limits: FactorLimits; readonly ofMean: Decimal } | null = null;
  return points.map((point) => {
    if (accepted.length === 0) {
      accepted.push(point);
      return "within";
    }
    const { limits, ofMean }: NonNullable<typeof frozen> = frozen ?? {
      limits: factorLimits({
        values: accepted.map((one) => one.value),
        occasionUncertainty: memberAt(accepted, 0).occasionUncertainty,
      }),
      ofMean: uncertaintyOfMean(accepted),
    };
    if (limits.kind === "frozen") frozen = { limits, ofMean };
    const aPriori = aPrioriFor(ofMean, point, limits.centre);
    const { level } = judgeAgainst({ ...limits, aPriori }, point.value);
    if (level !== "action" && accepted.length < FROZEN) accepted.push(point);
    return level;
  });
}

function driftOf(points: readonly HistoryFactor[], interval: Decimal): Drift | null {
  const first = points[0];
  const last = points.at(-1);
  if (points.length < 3 || !first || !last || first.day.equals(last.day)) return null;
  return drift({
    points,
    interval,
    occasionUncertainties: points.every((one) => one.occasionUncertainty.greaterThan(0))
      ? points.map((one) => one.occasionUncertainty)
      : [],
  });
}

function ranksOf(points: readonly HistoryFactor[], found: Drift | null): MannKendall | null {
  return found === null || points.length > MOST_RANKED ? null : mannKendall(points);
}

/** Mean square about the line is smaller than about two levels, whose place was chosen as well. */
function lineFitsBetter(found: Drift, step: StepChange, n: number): boolean {
  if (n < 5) return false;
  return found.line.residualSquares.div(n - 2).lessThan(step.residualSquares.div(n - 3));
}

const RULES = RUN_RULES.filter((rule) => RULE_ROLES[rule] !== "off");

function chartSignals(
  values: readonly Decimal[],
  limits: FactorLimits,
  levels: BaselineChart["levels"],
): ChartSignal[] {
  const { sigma, rangeLimit, centre } = limits;
  const runs: ChartSignal[] =
    sigma === null
      ? []
      : runSignals({ values, centre, sigma, rules: RULES }).map(({ rule, index, points }) => ({
          rule,
          index,
          points,
          weight: RULE_ROLES[rule] === "hint" ? "hint" : "signal",
        }));
  const beyond = new Set(runs.filter(({ rule }) => rule === "T1").map(({ index }) => index));
  const outside = levels.flatMap((level, index): ChartSignal[] =>
    level === "action" && !beyond.has(index)
      ? [{ rule: "limits", weight: "signal", index, points: [index] }]
      : [],
  );
  const jumps = values.slice(1).flatMap((value, at): ChartSignal[] => {
    const range = value.minus(memberAt(values, at)).abs();
    return rangeLimit !== null && range.greaterThan(rangeLimit)
      ? [{ rule: "jump", weight: "signal", index: at + 1, points: [at, at + 1] }]
      : [];
  });
  return [...outside, ...runs, ...jumps].sort((a, b) => a.index - b.index);
}

/**
 * Charts the counting calibrations of one baseline: limits by the number of points, run rules, drift, step. A baseline
 * that drifts is charted by its distances from the line, since limits about a mean suppose that there is one; one with
 * a step by the values before it, so that those after stand out.
 * @param interval usual days between calibrations
 * @throws InputError when there is no value, or values are out of order of time
 */
export function baselineChart(points: readonly HistoryFactor[], interval: Decimal): BaselineChart {
  const n = points.length;
  const found = driftOf(points, interval);
  const ranks = ranksOf(points, found);
  const tried = n < 4 ? null : stepChange(points.map((one) => one.value));
  const step = tried !== null && tried.p < STEP_P ? tried : null;
  const slopes = found !== null && found.caveats.length === 0 && (ranks === null || ranks.p < TREND_P);
  const drifting = slopes && (step === null || lineFitsBetter(found, step, n));
  const first = memberAt(points, 0);
  const charted = drifting
    ? points.map((one) => ({
        ...one,
        value: one.value.minus(found.line.slope.times(one.day.minus(found.firstDay))),
      }))
    : points;
  const stepped = drifting ? null : step;
  const used = stepped !== null && stepped.index >= 3 ? charted.slice(0, stepped.index) : charted;
  const limits = factorLimits({
    values: used.map((one) => one.value),
    occasionUncertainty: first.occasionUncertainty,
  });
  const levels = levelsInTurn(charted);
  const { sigma } = limits;
  return {
    limits,
    centre: limits.centre,
    warning: sigma === null ? limits.warning : intervalAround(limits.centre, sigma.times(2)),
    action: limits.action,
    slopePerDay: drifting ? found.line.slope : null,
    levels,
    signals: chartSignals(
      charted.map((one) => one.value),
      limits,
      levels,
    ),
    drift: found,
    ranks,
    drifting,
    step: stepped,
  };
}

/** The line at its first and last day. */
export function lineEnds({ line, span }: Drift): { readonly start: Decimal; readonly end: Decimal } {
  return { start: predict(line, decimal(0)).value, end: predict(line, span).value };
}

/** Mean of up to three values at one end of a stretch: the level there, less shaken by chance than one value. */
export function levelAt(values: readonly Decimal[], end: "first" | "last"): Decimal {
  return mean(end === "first" ? values.slice(0, 3) : values.slice(-3));
}
