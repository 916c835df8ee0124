import type { Agreement } from "#core/calibration/agreement.ts";
import type {
  TrainTrend,
  TrendBaseline,
  TrendCheck,
  TrendConformity,
  TrendDrift,
  TrendPoint,
  TrendStep,
} from "#core/contract/records/trend.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import { reportWithUncertainty } from "#core/quantity/rounding.ts";
import type { Interval } from "#core/statistics/interval.ts";
import { memberAt } from "#core/statistics/sample.ts";
import { lineInterval } from "#core/statistics/straight-line.ts";
import type { AssessedBaseline } from "#core/trends/assess-history.ts";
import { lineEnds } from "#core/trends/baseline-chart.ts";
import { dateOfDay } from "#core/trends/civil-day.ts";
import type { Drift } from "#core/trends/drift.ts";
import { proposedInterval } from "#core/trends/interval-advice.ts";
import { percentOf, percentWords } from "#core/trends/percent-words.ts";
import type { NamedEvent } from "#core/trends/trend-verdict.ts";
import { caveatWords, limitWords, signalWords } from "#core/trends/trend-words.ts";
import { conformityDecision, conformityPercent, DECISION_WORDS } from "#core/uncertainty/conformity.ts";
import { checksOfTrain } from "../../store/repositories/trend-repository.ts";
import type { TrendContext, TrendHistory } from "./trend-history.ts";

const YEAR_DAYS = decimal("365.25");
/** Derived figures keep twelve digits: more than any chart or table shows. */
const derived = (value: Decimal) => textOfDecimal(value.toSignificantDigits(12));
const limitsOf = ({ lower, upper }: Interval) => ({ lower: derived(lower), upper: derived(upper) });
const dated = (day: Decimal): string => dateOfDay(day.toNumber());

function agreementOf(
  found: Agreement | undefined,
): Pick<TrendPoint, "normalisedError" | "normalisedErrorApart" | "agreement"> {
  if (!found) return { normalisedError: null, normalisedErrorApart: null, agreement: null };
  return {
    normalisedError: derived(found.normalisedError),
    normalisedErrorApart: derived(found.normalisedErrorApart),
    agreement: found.verdict,
  };
}

/** The signals of a baseline by the place of the point at which they fire. */
function signalsByPlace({
  chart,
  counting,
}: AssessedBaseline<NamedEvent>): Map<number, TrendPoint["signals"]> {
  const byPlace = new Map<number, TrendPoint["signals"]>();
  for (const signal of chart?.signals ?? []) {
    const place = memberAt(counting, signal.index);
    const fired = byPlace.get(place) ?? [];
    fired.push({
      rule: signal.rule,
      weight: signal.weight,
      points: signal.points.map((inBaseline) => memberAt(counting, inBaseline)),
      words: signalWords(signal),
    });
    byPlace.set(place, fired);
  }
  return byPlace;
}

function pointsOf({ calibrations, history }: TrendHistory, nameOf: (id: string) => string): TrendPoint[] {
  const points: TrendPoint[] = [];
  let number = -1;
  for (const baseline of history.baselines) {
    const { chart, counting } = baseline;
    if (chart) number += 1;
    const at = new Map(counting.map((place, index) => [place, index]));
    const signals = signalsByPlace(baseline);
    for (const place of baseline.places) {
      const one = calibrations[place];
      if (!one) continue;
      const { calibration, reference } = one;
      const index = at.get(place);
      points.push({
        calibrationId: calibration.id,
        state: calibration.state,
        at: one.at,
        date: one.date,
        factor: calibration.factor,
        expandedUncertainty: calibration.expandedUncertainty,
        shownFactor: calibration.shownFactor,
        shownUncertainty: calibration.shownUncertainty,
        personId: calibration.personId,
        person: nameOf(calibration.personId),
        stageMicrometerId: reference.micrometerId,
        micrometer: reference.micrometer,
        certificate: reference.certificate,
        baseline: chart ? number : -1,
        counts: index !== undefined,
        ...agreementOf(history.chain.get(place)),
        level: index === undefined ? "within" : (chart?.levels[index] ?? "within"),
        signals: signals.get(place) ?? [],
      });
    }
  }
  return points;
}

function baselineOf(
  { calibrations }: TrendHistory,
  { begunBy, counting, chart }: AssessedBaseline<NamedEvent>,
  end: string,
): TrendBaseline[] {
  const from = calibrations[counting[0] ?? -1]?.date;
  if (!chart || from === undefined) return [];
  const { limits, warning, action, centre, slopePerDay } = chart;
  return [
    {
      begunBy: begunBy?.words ?? null,
      from,
      to: end,
      kind: limits.kind,
      rule: limitWords(limits, slopePerDay !== null),
      n: limits.n,
      centre: derived(centre),
      warning: warning && limitsOf(warning),
      action: action && limitsOf(action),
      slopePerDay: slopePerDay && derived(slopePerDay),
    },
  ];
}

function baselinesOf(trend: TrendHistory, today: string): TrendBaseline[] {
  const { baselines } = trend.history;
  return baselines.flatMap((baseline, at) => {
    const next = baselines[at + 1]?.begunBy;
    return baselineOf(trend, baseline, next ? dated(next.day) : today);
  });
}

function driftOf(trend: TrendHistory): TrendDrift | null {
  const { calibrations, history, verdict } = trend;
  const { chart, counting } = history.current;
  const first = calibrations[counting[0] ?? -1]?.point.day;
  const found = chart?.drift;
  if (!found || first === undefined || history.reference === null) return null;
  const { reference, reached } = history;
  const perYear = (slope: Decimal): Decimal => percentOf(slope.times(YEAR_DAYS).div(reference));
  const ends = lineEnds(found);
  const day = (offset: Decimal): string => dated(first.plus(offset));
  const caveats = found.caveats.map(caveatWords);
  if (found.caveats.length === 0 && !chart.drifting) {
    caveats.push(chart.step ? "a change of level fits better" : "the rank test does not confirm it");
  }
  const { line } = found;
  return {
    from: dated(first),
    to: day(found.span),
    n: line.n,
    startValue: derived(ends.start),
    endValue: derived(ends.end),
    band: bandOf(found, first, reached?.reaching.kind === "day" ? reached.reaching.day : null),
    percentPerYear: textOfDecimal(perYear(line.slope)),
    interval: {
      lower: textOfDecimal(perYear(found.slopeInterval.lower)),
      upper: textOfDecimal(perYear(found.slopeInterval.upper)),
    },
    p: found.p,
    rankP: chart.ranks?.p ?? null,
    established: chart.drifting,
    caveats,
    reaching: reached && {
      kind: reached.reaching.kind,
      side: reached.side,
      limit: derived(reached.limit),
      date:
        "day" in reached.reaching
          ? day(reached.reaching.day)
          : reached.crossing?.greaterThan(0)
            ? day(reached.crossing)
            : null,
      earliest: reached.reaching.kind === "day" ? day(reached.reaching.earliest) : null,
      latest: reached.reaching.kind === "day" ? day(reached.reaching.latest) : null,
    },
    words: chart.drifting
      ? `Drifting ${verdict.why.charAt(0).toLowerCase()}${verdict.why.slice(1)}`
      : `No drift to be named: ${percentWords(line.slope.times(YEAR_DAYS).div(reference))} a year; ${caveats.join(", ")}.`,
  };
}

const BAND_PARTS = 6;

/** The 95 % interval of the line: evenly over the history, and at the day it meets the limit where one is foretold. */
function bandOf({ line, span }: Drift, first: Decimal, meets: Decimal | null): TrendDrift["band"] {
  const offsets = Array.from({ length: BAND_PARTS + 1 }, (_, at) => span.times(at).div(BAND_PARTS).floor());
  if (meets?.greaterThan(span)) offsets.push(meets.floor());
  return offsets.map((offset) => ({
    date: dated(first.plus(offset)),
    ...limitsOf(lineInterval(line, offset, 0.95, "line")),
  }));
}

function stepsOf({ calibrations, history }: TrendHistory): TrendStep[] {
  return history.steps.flatMap(({ from, to, relative, event }) => {
    const [after, before] = [calibrations[from]?.date, calibrations[to]?.date];
    return after === undefined || before === undefined
      ? []
      : [{ after, before, percent: textOfDecimal(percentOf(relative)), event: event?.words ?? null }];
  });
}

function checksOf({ db }: TrendContext, trainId: string, nameOf: (id: string) => string, dateOf: DateOf) {
  return checksOfTrain(db, trainId).map(
    ({ id, at, personId, result, withdrawn }): TrendCheck => ({
      checkId: id,
      date: dateOf(at),
      factor: result.factor,
      shownFactor: reportWithUncertainty(decimal(result.factor), decimal(result.limit)).value,
      person: nameOf(personId),
      passed: result.passed,
      withdrawn,
    }),
  );
}

/** The last factor that counts, held against the tolerance about the first of its baseline. */
function conformityOf({
  calibrations,
  history,
  tolerance,
  toleranceShare,
}: TrendHistory): TrendConformity | null {
  const place = history.current.counting.at(-1);
  const point = place === undefined ? undefined : calibrations[place]?.point;
  const { reference } = history;
  if (!point || reference === null || !point.standardUncertainty.greaterThan(0)) return null;
  const width = reference.times(toleranceShare);
  const { conforms, probability } = conformityDecision(
    {
      value: point.value,
      standardUncertainty: point.standardUncertainty,
      expanded: point.expandedUncertainty,
    },
    { lower: reference.minus(width), upper: reference.plus(width) },
    tolerance.rule,
  );
  const change = percentWords(point.value.div(reference).minus(1));
  return {
    conforms,
    words: `The factor in force ${conforms ? "conforms" : "does not conform"}: ${change} from the first of its baseline, tolerance ± ${tolerance.percent} %, by ${DECISION_WORDS[tolerance.rule]}. The probability that it keeps the tolerance is ${conformityPercent(probability)}.`,
  };
}

type DateOf = (instant: string) => string;

/** A history as it crosses to the window. */
export function trendRecord(
  context: TrendContext,
  trend: TrendHistory,
  nameOf: (personId: string) => string,
  dateOf: DateOf,
): TrainTrend {
  const { train, calibrations, history, verdict, tolerance, toleranceShare, dueOn } = trend;
  const points = calibrations.map(({ point }) => point);
  const proposed = proposedInterval(history, points, toleranceShare, verdict.kind === "jumped");
  const last = history.current.counting.at(-1);
  const lastDay = last === undefined ? undefined : points[last]?.day;
  return {
    trainId: train.id,
    nominalFactor: train.nominalFactor,
    reference: history.reference && derived(history.reference),
    tolerance,
    conformity: conformityOf(trend),
    points: pointsOf(trend, nameOf),
    baselines: baselinesOf(trend, context.today),
    events: trend.events.map(({ date, kind, words, breaks }) => ({ date, kind, words, breaks })),
    checks: checksOf(context, train.id, nameOf, dateOf),
    steps: stepsOf(trend),
    drift: driftOf(trend),
    verdict,
    advice: {
      usualDays: history.usualInterval && Math.round(history.usualInterval.toNumber()),
      methods: [...proposed.methods],
      proposedDays: proposed.days,
      proposedDue:
        proposed.days === null || lastDay === undefined ? null : dated(lastDay.plus(proposed.days)),
      reason: proposed.reason,
    },
    dueOn,
    asOf: context.today,
  };
}
