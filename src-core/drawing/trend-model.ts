import type { TrainTrend } from "../contract/records/trend.ts";
import { dayOfDate } from "../trends/civil-day.ts";
import type { TrendUnit } from "../vocabulary/trend-unit.ts";

/** Days from 1970-01-01 to a date. */
export function dayOf(date: string): number {
  return dayOfDate("date", date);
}

export interface ModelLine {
  readonly fromDay: number;
  readonly toDay: number;
  readonly from: number;
  readonly to: number;
}

export interface ModelBaseline {
  readonly fromDay: number;
  readonly toDay: number;
  readonly centre: ModelLine;
  readonly warning: readonly ModelLine[];
  readonly action: readonly ModelLine[];
}

/** A mark of one person and one micrometer: which shape, and how it is filled. */
export interface MarkKind {
  readonly person: string;
  readonly micrometer: string;
  readonly shape: number;
  readonly fill: number;
}

/** A history as plain numbers in the unit of the axis; made once, drawn many times. */
export interface TrendModel {
  readonly unit: TrendUnit;
  readonly days: Float64Array;
  readonly values: Float64Array;
  /** Expanded uncertainty, in the unit of the axis. */
  readonly halves: Float64Array;
  /** Place in `kinds` of each point. */
  readonly kindOf: Uint16Array;
  readonly kinds: readonly MarkKind[];
  readonly counts: readonly boolean[];
  /** Rules that fire at each point, for its mark; empty for none. */
  readonly rules: readonly string[];
  readonly baselines: readonly ModelBaseline[];
  readonly nominal: number;
  readonly tolerance: { readonly lower: number; readonly upper: number; readonly fromDay: number } | null;
  readonly drift: (ModelLine & { readonly band: readonly ModelBand[]; readonly established: boolean }) | null;
  readonly breaks: readonly { readonly day: number; readonly letter: string }[];
  readonly checks: readonly { readonly day: number; readonly value: number; readonly passed: boolean }[];
  readonly today: number;
}

export interface ModelBand {
  readonly day: number;
  readonly lower: number;
  readonly upper: number;
}

/** Letter of an event as it stands on the chart and in the table: A … Z, AA … */
export function eventLetter(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26));
  return index < 26 ? letter : `${eventLetter(Math.floor(index / 26) - 1)}${letter}`;
}

function indexIn(list: string[], name: string): number {
  const at = list.indexOf(name);
  return at >= 0 ? at : list.push(name) - 1;
}

function baselinesOf(trend: TrainTrend, scale: (value: string) => number, tilt: (v: string) => number) {
  return trend.baselines.map((baseline): ModelBaseline => {
    const [fromDay, toDay] = [dayOf(baseline.from), dayOf(baseline.to)];
    const rise = baseline.slopePerDay === null ? 0 : tilt(baseline.slopePerDay) * (toDay - fromDay);
    const line = (value: string): ModelLine => ({
      fromDay,
      toDay,
      from: scale(value),
      to: scale(value) + rise,
    });
    const both = (limits: typeof baseline.action): ModelLine[] =>
      limits === null ? [] : [line(limits.lower), line(limits.upper)];
    return {
      fromDay,
      toDay,
      centre: line(baseline.centre),
      warning: both(baseline.warning),
      action: both(baseline.action),
    };
  });
}

function driftOf({ drift }: TrainTrend, scale: (value: string) => number): TrendModel["drift"] {
  if (drift === null) return null;
  return {
    fromDay: dayOf(drift.from),
    toDay: dayOf(drift.to),
    from: scale(drift.startValue),
    to: scale(drift.endValue),
    established: drift.established,
    band: drift.band.map(({ date, lower, upper }) => ({
      day: dayOf(date),
      lower: scale(lower),
      upper: scale(upper),
    })),
  };
}

/** Turns a history into numbers for one unit of the axis. */
export function trendModel(trend: TrainTrend, unit: TrendUnit): TrendModel {
  const reference = Number(trend.reference ?? trend.nominalFactor);
  const tilt = (value: string): number => (unit === "percent" ? 100 / reference : 1) * Number(value);
  const scale = (value: string | number): number =>
    unit === "percent" ? (Number(value) / reference - 1) * 100 : Number(value);
  const { points } = trend;
  const people: string[] = [];
  const micrometers: string[] = [];
  const kinds: MarkKind[] = [];
  const kindKeys: string[] = [];
  const kindOf = new Uint16Array(points.length);
  points.forEach(({ person, micrometer }, at) => {
    const found = indexIn(kindKeys, `${person}\n${micrometer}`);
    if (found === kinds.length) {
      kinds.push({
        person,
        micrometer,
        shape: indexIn(people, person),
        fill: indexIn(micrometers, micrometer),
      });
    }
    kindOf[at] = found;
  });
  const last = trend.baselines.at(-1);
  const share = Number(trend.tolerance.percent) / 100;
  return {
    unit,
    days: Float64Array.from(points, ({ date }) => dayOf(date)),
    values: Float64Array.from(points, ({ factor }) => scale(factor)),
    halves: Float64Array.from(points, ({ expandedUncertainty }) => tilt(expandedUncertainty)),
    kindOf,
    kinds,
    counts: points.map(({ counts }) => counts),
    rules: points.map(({ signals }) =>
      signals
        .filter(({ weight }) => weight === "signal")
        .map(({ rule }) => rule)
        .join(" "),
    ),
    baselines: baselinesOf(trend, scale, tilt),
    nominal: scale(trend.nominalFactor),
    tolerance:
      trend.reference === null || !last
        ? null
        : {
            lower: scale(reference * (1 - share)),
            upper: scale(reference * (1 + share)),
            fromDay: dayOf(last.from),
          },
    drift: driftOf(trend, scale),
    breaks: trend.events.map(({ date }, at) => ({ day: dayOf(date), letter: eventLetter(at) })),
    checks: trend.checks
      .filter(({ withdrawn }) => withdrawn === null)
      .map(({ date, factor, passed }) => ({ day: dayOf(date), value: scale(factor), passed })),
    today: dayOf(trend.asOf),
  };
}
