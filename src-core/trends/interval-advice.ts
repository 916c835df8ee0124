import { countedNoun } from "../quantity/counted-noun.ts";
import { Decimal, decimal, type Decimal as Value } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";
import { memberAt } from "../statistics/sample.ts";
import type { AssessedHistory } from "./assess-history.ts";
import type { HistoryEvent } from "./baseline.ts";
import type { HistoryFactor } from "./history-factor.ts";
import { percentWords } from "./percent-words.ts";

/** A method of setting the interval, what it would give and why. */
export interface IntervalMethod {
  readonly name: string;
  readonly source: string;
  /** Null: the method has not enough to go by, or says that the cause comes first. */
  readonly days: number | null;
  readonly reason: string;
}

export interface ProposedInterval {
  readonly methods: readonly IntervalMethod[];
  readonly days: number | null;
  readonly reason: string;
}

/** Steps of the staircase, days: one, three, six, twelve and twenty-four months. Common practice, no source. */
export const INTERVAL_STEPS: readonly number[] = [30, 91, 183, 365, 730];
/** Share of the tolerance within which an interval may be lengthened (ILAC-G24, automatic adjustment; from memory). */
const COMFORTABLE = decimal("0.8");
const LEAST_FOR_LONGER = 3;
const LEAST_FOR_CHART = 5;
const MOST_SPANS = 2;

const STAIRCASE = "ILAC-G24:2022/OIML D 10:2022 6.2, automatic adjustment or staircase";
const CONTROL_CHART = "ILAC-G24:2022/OIML D 10:2022 6.3, control chart";

/** The step of the staircase nearest to an interval. */
function stepNear(days: Value): number {
  const off = INTERVAL_STEPS.map((step) => Math.abs(Math.log(step / Math.max(1, days.toNumber()))));
  return off.indexOf(Math.min(...off));
}

function staircase(
  history: AssessedHistory<HistoryEvent>,
  points: readonly HistoryFactor[],
  tolerance: Value,
): IntervalMethod {
  const method = { name: "Staircase", source: STAIRCASE };
  const { counting } = history.current;
  const [before, last] = counting.slice(-2);
  if (before === undefined || last === undefined || history.usualInterval === null) {
    return {
      ...method,
      days: null,
      reason: "It goes by the change since the calibration before; there is none.",
    };
  }
  const change = memberAt(points, last).value.div(memberAt(points, before).value).minus(1);
  const at = stepNear(history.usualInterval);
  const step = (by: number): number =>
    memberAt(INTERVAL_STEPS, Math.min(INTERVAL_STEPS.length - 1, Math.max(0, at + by)));
  const [now, longer] = [step(0), step(1)];
  const stays = `the interval stays at ${countedNoun(now, "day")}`;
  const found = `The last change was ${percentWords(change)} of ${percentWords(tolerance).slice(1)} allowed`;
  if (change.abs().greaterThan(tolerance)) {
    return {
      ...method,
      days: step(-1),
      reason: `${found}: one step shorter than ${countedNoun(now, "day")}.`,
    };
  }
  if (change.abs().greaterThan(tolerance.times(COMFORTABLE))) {
    return { ...method, days: now, reason: `${found}, more than 80 % of it: ${stays}.` };
  }
  if (counting.length < LEAST_FOR_LONGER) {
    return { ...method, days: now, reason: `${found}, but only two calibrations: ${stays}.` };
  }
  const lengthened =
    longer === now
      ? `the longest step, ${countedNoun(now, "day")}`
      : `one step longer than ${countedNoun(now, "day")}`;
  return { ...method, days: longer, reason: `${found}, within 80 % of it: ${lengthened}.` };
}

function controlChart(
  history: AssessedHistory<HistoryEvent>,
  points: readonly HistoryFactor[],
  tolerance: Value,
): IntervalMethod {
  const method = { name: "Control chart", source: CONTROL_CHART };
  const { counting, chart } = history.current;
  const found = chart?.drift;
  const last = counting.at(-1);
  if (!found || last === undefined || counting.length < LEAST_FOR_CHART) {
    return {
      ...method,
      days: null,
      reason: `It needs ${LEAST_FOR_CHART} calibrations of one baseline and has ${counting.length}.`,
    };
  }
  const latest = memberAt(points, last);
  const room = latest.value.times(tolerance).minus(latest.expandedUncertainty);
  if (!room.greaterThan(0)) {
    return { ...method, days: null, reason: "U alone fills the tolerance: no interval can keep it." };
  }
  const steepest = Decimal.max(found.slopeInterval.lower.abs(), found.slopeInterval.upper.abs());
  const cap = found.span.times(MOST_SPANS);
  const wanted = steepest.isZero() ? cap : room.div(steepest);
  const days = Decimal.min(wanted, cap, memberAt(INTERVAL_STEPS, INTERVAL_STEPS.length - 1));
  const slope = percentWords(steepest.times("365.25").div(latest.value)).slice(1);
  const capped = wanted.greaterThan(days) ? ", capped" : "";
  return {
    ...method,
    days: Math.max(1, Math.floor(days.toNumber())),
    reason: `The slope is at most ${slope} a year (95 %); at that the tolerance less U is used up after ${countedNoun(Number(wanted.toFixed(0)), "day")}${capped}.`,
  };
}

/**
 * A proposal for the days to the next calibration, after two methods of ILAC-G24:2022/OIML D 10:2022 (clauses from a
 * stored copy, the 80 % from memory; the steps are common practice, no source): the staircase, which goes by the last
 * change, and the control chart, which asks how soon the steepest slope the history allows uses up tolerance less U. The
 * shorter one is proposed; while a jump is unexplained, none is. It is never applied by itself.
 * @param jumped a jump stands unexplained
 */
export function proposedInterval(
  history: AssessedHistory<HistoryEvent>,
  points: readonly HistoryFactor[],
  tolerance: Value,
  jumped: boolean,
): ProposedInterval {
  requirePositive("tolerance", tolerance);
  const methods = [staircase(history, points, tolerance), controlChart(history, points, tolerance)];
  if (jumped) {
    return { methods, days: null, reason: "Find the cause of the jump first; an interval cannot mend it." };
  }
  const known = methods.flatMap(({ days }) => (days === null ? [] : [days]));
  if (known.length === 0) return { methods, days: null, reason: "Too few calibrations for a proposal." };
  const days = Math.min(...known);
  const from = methods.find((one) => one.days === days);
  return { methods, days, reason: `The shorter of what the methods allow (${from?.name.toLowerCase()}).` };
}
