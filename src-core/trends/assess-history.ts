import type { Agreement } from "../calibration/agreement.ts";
import { Decimal, decimal, ONE } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";
import { median, memberAt } from "../statistics/sample.ts";
import { type Baseline, baselines, type HistoryEvent } from "./baseline.ts";
import { type BaselineChart, baselineChart, levelAt } from "./baseline-chart.ts";
import { agreementBetween, type HistoryFactor, loneValues } from "./history-factor.ts";
import { guardedLimit, type LimitSide, type Reaching, reachingDay } from "./reaching-date.ts";

/** A change of level: between which two calibrations, by how much, and the event at which it happened. */
export interface HistoryStep<E> {
  /** Places in the history of the calibrations on either side. */
  readonly from: number;
  readonly to: number;
  /** Relative to the level before. */
  readonly relative: Decimal;
  readonly event: E | null;
}

export interface AssessedBaseline<E> {
  readonly begunBy: E | null;
  /** Places in the history of all its points, and of those that count. */
  readonly places: readonly number[];
  readonly counting: readonly number[];
  /** Null while no calibration counts. */
  readonly chart: BaselineChart | null;
}

export interface ReachedLimit {
  readonly side: LimitSide;
  /** The guarded limit, µm/div. */
  readonly limit: Decimal;
  /** Days count from the first calibration of the baseline. */
  readonly reaching: Reaching;
  /** When the line crosses the limit, whatever may be foretold of it; null for a line that does not. */
  readonly crossing: Decimal | null;
}

export interface AssessedHistory<E> {
  /** At least one; the last is the one now running. */
  readonly baselines: readonly AssessedBaseline<E>[];
  readonly current: AssessedBaseline<E>;
  /** Places of values apart from both neighbours. */
  readonly lone: ReadonlySet<number>;
  /** By place: agreement with the calibration before that counts; none at the first and at those that do not count. */
  readonly chain: ReadonlyMap<number, Agreement>;
  readonly steps: readonly HistoryStep<E>[];
  /** Usual days between calibrations, at least 1; null below two calibrations. */
  readonly usualInterval: Decimal | null;
  /** First factor of the running baseline: the tolerance counts from it. */
  readonly reference: Decimal | null;
  /** Of the running baseline's drift; null when it has none to be named. */
  readonly reached: ReachedLimit | null;
}

export interface HistoryInput<E extends HistoryEvent> {
  /** Oldest first. */
  readonly points: readonly HistoryFactor[];
  readonly events: readonly E[];
  /** Relative, 0.02 is 2 %. */
  readonly tolerance: Decimal;
}

function usualInterval(points: readonly HistoryFactor[]): Decimal | null {
  if (points.length < 2) return null;
  const gaps = points.slice(1).map(({ day }, at) => day.minus(memberAt(points, at).day));
  return Decimal.max(ONE, median(gaps));
}

function chainOf(points: readonly HistoryFactor[], counting: readonly number[]): Map<number, Agreement> {
  return new Map(
    counting
      .slice(1)
      .map((place, at) => [
        place,
        agreementBetween(memberAt(points, memberAt(counting, at)), memberAt(points, place)),
      ]),
  );
}

function assessedBaselines<E extends HistoryEvent>(
  { points, events }: HistoryInput<E>,
  lone: ReadonlySet<number>,
  interval: Decimal,
): AssessedBaseline<E>[] {
  let start = 0;
  const counts = (place: number): boolean => !memberAt(points, place).withdrawn && !lone.has(place);
  return baselines(points, events).map(({ points: own, begunBy }: Baseline<HistoryFactor, E>) => {
    const places = own.map((_, at) => start + at);
    start += own.length;
    const counting = places.filter(counts);
    const chart =
      counting.length === 0
        ? null
        : baselineChart(
            counting.map((place) => memberAt(points, place)),
            interval,
          );
    return { begunBy, places, counting, chart };
  });
}

/** Steps within baselines, and those at their borders that the uncertainties do not cover. */
function stepsOf<E>(
  points: readonly HistoryFactor[],
  found: readonly AssessedBaseline<E>[],
  chain: ReadonlyMap<number, Agreement>,
): HistoryStep<E>[] {
  const factorAt = (place: number): Decimal => memberAt(points, place).value;
  const steps: HistoryStep<E>[] = [];
  let before: AssessedBaseline<E> | null = null;
  for (const baseline of found) {
    const to = baseline.counting[0];
    if (to === undefined) continue;
    if (before !== null && chain.get(to)?.verdict !== "agrees") {
      const earlier = levelAt(before.counting.map(factorAt), "last");
      const later = levelAt(baseline.counting.map(factorAt), "first");
      steps.push({
        from: memberAt(before.counting, before.counting.length - 1),
        to,
        relative: later.div(earlier).minus(1),
        event: baseline.begunBy,
      });
    }
    const step = baseline.chart?.step;
    if (step) {
      steps.push({
        from: memberAt(baseline.counting, step.index - 1),
        to: memberAt(baseline.counting, step.index),
        relative: step.after.div(step.before).minus(1),
        event: null,
      });
    }
    before = baseline;
  }
  return steps;
}

function reachedLimit(
  chart: BaselineChart | null,
  reference: Decimal | null,
  latest: HistoryFactor | undefined,
  tolerance: Decimal,
): ReachedLimit | null {
  const found = chart?.drift;
  if (!chart?.drifting || !found || reference === null || !latest) return null;
  const { slope, intercept } = found.line;
  const side = slope.greaterThan(0) ? "upper" : "lower";
  const limit = guardedLimit(reference, tolerance, latest.expandedUncertainty, side);
  return {
    side,
    limit,
    reaching: reachingDay(found, limit, side),
    crossing: slope.isZero() ? null : limit.minus(intercept).div(slope),
  };
}

/**
 * Reads the history of one train's factor: cut into baselines at the events that break it, each charted by the number
 * of its points; withdrawn values and values apart from both neighbours are left out of every limit, line and
 * comparison.
 * @throws InputError when points are out of order of time or the tolerance is not positive
 */
export function assessHistory<E extends HistoryEvent>(input: HistoryInput<E>): AssessedHistory<E> {
  const { points } = input;
  const tolerance = requirePositive("tolerance", input.tolerance);
  const lone = loneValues(points);
  const counting = points.flatMap((point, place) => (point.withdrawn || lone.has(place) ? [] : [place]));
  const interval = usualInterval(counting.map((place) => memberAt(points, place)));
  const found = assessedBaselines(input, lone, interval ?? decimal(1));
  const current = memberAt(found, found.length - 1);
  const chain = chainOf(points, counting);
  const first = current.counting[0];
  const latest = current.counting.at(-1);
  const reference = first === undefined ? null : memberAt(points, first).value;
  return {
    baselines: found,
    current,
    lone,
    chain,
    steps: stepsOf(points, found, chain),
    usualInterval: interval,
    reference,
    reached: reachedLimit(
      current.chart,
      reference,
      latest === undefined ? undefined : memberAt(points, latest),
      tolerance,
    ),
  };
}
