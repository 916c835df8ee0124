import { Decimal } from "../quantity/decimal.ts";
import { requireCount, requirePositive } from "../quantity/input-error.ts";
import { type Interval, studentInterval } from "../statistics/interval.ts";
import { memberAt, requireLevel } from "../statistics/sample.ts";
import { type StraightLine, straightLine, testAgainstZero } from "../statistics/straight-line.ts";
import { type HistoryPoint, requireHistory } from "./baseline.ts";

/** Why a slope is not called a drift. */
export const DRIFT_CAVEATS = ["too-few-points", "too-short-a-span", "not-significant"] as const;
export type DriftCaveat = (typeof DRIFT_CAVEATS)[number];

const LEAST_POINTS = 5;
const LEAST_INTERVALS = 3;
/** Weights are used only when the occasions differ in uncertainty by more than this. */
const WEIGHT_RATIO = 2;

export interface Drift {
  /** value = intercept + slope·(day − first day). */
  readonly line: StraightLine;
  readonly firstDay: Decimal;
  /** Last day − first day. */
  readonly span: Decimal;
  readonly t: Decimal | null;
  readonly p: number;
  /** Interval of the slope per day. */
  readonly slopeInterval: Interval;
  readonly weighted: boolean;
  /** Empty: the slope may be reported as a drift. Otherwise only its interval. */
  readonly caveats: readonly DriftCaveat[];
}

export interface DriftInput {
  readonly points: readonly HistoryPoint[];
  /** Usual days between two calibrations; a drift must show over three of them. */
  readonly interval: Decimal;
  /** u_occ of each point. The part common to all calibrations never enters the weights. */
  readonly occasionUncertainties?: readonly Decimal[];
  readonly level?: number;
}

function weightsFrom(uncertainties: readonly Decimal[] | undefined): Decimal[] | undefined {
  if (uncertainties === undefined || uncertainties.length === 0) return undefined;
  uncertainties.forEach((u, index) => {
    requirePositive(`occasionUncertainties.${index}`, u);
  });
  const ratio = Decimal.max(...uncertainties).div(Decimal.min(...uncertainties));
  if (!ratio.greaterThan(WEIGHT_RATIO)) return undefined;
  return uncertainties.map((u) => u.pow(-2));
}

/**
 * Drift of a factor: straight line over days by least squares (JCGM 100:2008 H.3 for the formulas), called a drift
 * only from five points over three calibration intervals and with p below 1 − level.
 * @throws InputError for fewer than three points, points out of order, or all on one day
 */
export function drift({ points, interval, occasionUncertainties, level = 0.95 }: DriftInput): Drift {
  requireCount("points", points, 3);
  requireHistory("points", points);
  requirePositive("interval", interval);
  requireLevel(level);
  const firstDay = memberAt(points, 0).day;
  const span = memberAt(points, points.length - 1).day.minus(firstDay);
  const weights = weightsFrom(occasionUncertainties);
  const line = straightLine(
    points.map(({ day, value }) => ({ x: day.minus(firstDay), y: value })),
    weights,
  );
  const { t, p } = testAgainstZero(line.slope, line.slopeError, line.degrees);
  const caveats: DriftCaveat[] = [];
  if (points.length < LEAST_POINTS) caveats.push("too-few-points");
  if (span.lessThan(interval.times(LEAST_INTERVALS))) caveats.push("too-short-a-span");
  if (p >= 1 - level) caveats.push("not-significant");
  return {
    line,
    firstDay,
    span,
    t,
    p,
    slopeInterval: studentInterval(line.slope, line.slopeError, line.degrees, level),
    weighted: weights !== undefined,
    caveats,
  };
}
