import { countedNoun } from "../quantity/counted-noun.ts";
import { type Decimal, decimal } from "../quantity/decimal.ts";
import { mean, memberAt } from "../statistics/sample.ts";
import type { AssessedHistory, HistoryStep } from "./assess-history.ts";
import type { HistoryEvent } from "./baseline.ts";
import { dateOfDay } from "./civil-day.ts";
import type { HistoryFactor } from "./history-factor.ts";
import { percentWords } from "./percent-words.ts";

/**
 * Of one word on a train the heaviest: `jumped` outweighs `drifting`, and both an overdue date. A change that the limits
 * of a very quiet history show, but that U covers and the tolerance hardly notices, is a `small change` and no alarm.
 */
export const VERDICT_KINDS = [
  "steady",
  "small change",
  "drifting",
  "jumped",
  "too few points",
  "overdue",
  "not calibrated",
] as const;
export type VerdictKind = (typeof VERDICT_KINDS)[number];

/** A change up to this share of the tolerance is far within it. Our own rule. */
const FAR_WITHIN = decimal("0.5");

export interface TrendVerdict {
  readonly kind: VerdictKind;
  /** One line: why. */
  readonly why: string;
}

/** Below this a drift cannot show, so nothing is called steady. */
const LEAST_FOR_STEADY = 5;
/** From here on a new baseline has limits of its own, and the jump before it is history. */
const SETTLED = 8;

/** What an event is called in a sentence. */
export interface NamedEvent extends HistoryEvent {
  readonly words: string;
}

export interface VerdictInput {
  readonly history: AssessedHistory<NamedEvent>;
  readonly points: readonly HistoryFactor[];
  readonly tolerance: Decimal;
  /** Day the calibration in force falls due; null when none is in force. */
  readonly dueDay: number | null;
  readonly today: number;
}

const dateOf = (point: HistoryFactor): string => dateOfDay(point.day.toNumber());

function jumpWords({ points, history }: VerdictInput, step: HistoryStep<NamedEvent>): string {
  const [from, to] = [memberAt(points, step.from), memberAt(points, step.to)];
  const since = history.current.counting.filter((place) => place >= step.to).length;
  const where = step.event
    ? `at ${step.event.words} (${dateOfDay(step.event.day.toNumber())})`
    : `between ${dateOf(from)} and ${dateOf(to)}, no event recorded`;
  const after =
    since <= 1 ? "the last calibration shows it" : `${since} calibrations since lie on the new level`;
  return `By ${percentWords(step.relative)} ${where}; ${after}.`;
}

/** The jump that still matters: within the running baseline, or at its beginning while it is young. */
function presentJump({ history }: VerdictInput): HistoryStep<NamedEvent> | null {
  const first = history.current.counting[0];
  const last = history.steps.at(-1);
  if (first === undefined || last === undefined || last.to < first) return null;
  const atBeginning = last.to === first;
  return atBeginning && history.current.counting.length >= SETTLED ? null : last;
}

/** U of a calibration, relative; what a change must exceed to be more than its own doubt. */
function relativeU(point: HistoryFactor): Decimal {
  return point.expandedUncertainty.div(point.value);
}

function isSmall({ points, tolerance }: VerdictInput, place: number, relative: Decimal): boolean {
  return (
    relative.abs().lessThanOrEqualTo(relativeU(memberAt(points, place))) &&
    relative.abs().lessThanOrEqualTo(tolerance.times(FAR_WITHIN))
  );
}

/** Why a change is no alarm. */
function smallWords({ points, tolerance }: VerdictInput, place: number): string {
  const u = percentWords(relativeU(memberAt(points, place))).slice(1);
  return ` It lies within U (${u}) and far within the tolerance of ${percentWords(tolerance).slice(1)}.`;
}

/** The last calibration beyond the limits of those before it, before a step can be told from one odd value. */
function lastIsOutside(input: VerdictInput): { readonly place: number; readonly relative: Decimal } | null {
  const { history, points } = input;
  const { chart, counting } = history.current;
  if (!chart || chart.drifting || chart.levels.at(-1) !== "action") return null;
  const place = memberAt(counting, counting.length - 1);
  const before = counting.filter((_, at) => chart.levels[at] !== "action");
  const level = mean(before.map((one) => memberAt(points, one).value));
  return { place, relative: memberAt(points, place).value.div(level).minus(1) };
}

/** A jump, or a last calibration beyond the limits: an alarm, or a small change where U covers it. */
function changed(input: VerdictInput): TrendVerdict | null {
  const jump = presentJump(input);
  if (jump) {
    const small = isSmall(input, jump.to, jump.relative);
    const why = `${jumpWords(input, jump)}${small ? smallWords(input, jump.to) : ""}`;
    return { kind: small ? "small change" : "jumped", why };
  }
  const outside = lastIsOutside(input);
  if (!outside) return null;
  const { place, relative } = outside;
  const at = `The last calibration (${dateOf(memberAt(input.points, place))}) lies ${percentWords(relative)} from the mean, beyond the limits of those before it`;
  return isSmall(input, place, relative)
    ? { kind: "small change", why: `${at}.${smallWords(input, place)}` }
    : { kind: "jumped", why: `${at}: calibrate once more.` };
}

function towardsWords({ history, tolerance, points }: VerdictInput): string {
  const { reached, current } = history;
  const first = current.counting[0];
  if (!reached || first === undefined) return "";
  const target = percentWords(reached.side === "upper" ? tolerance : tolerance.negated());
  const start = memberAt(points, first).day;
  const dated = (day: Decimal): string => dateOfDay(start.plus(day).toNumber());
  const { reaching, crossing } = reached;
  if (reaching.kind === "reached") {
    const when = crossing?.greaterThan(0) ? ` about ${dated(crossing)}` : " from the beginning";
    return `; the line, with U, met ${target}${when}`;
  }
  if (reaching.kind === "day") {
    return ` towards ${target}, met about ${dated(reaching.day)} (not before ${dated(reaching.earliest)})`;
  }
  if (reaching.kind === "not-before") return ` towards ${target}, not met before ${dated(reaching.day)}`;
  return ` towards ${target}, at a day that cannot be foretold yet`;
}

const YEAR_DAYS = 365.25;

function driftWords(input: VerdictInput): string {
  const { chart, counting } = input.history.current;
  const slope = chart?.slopePerDay;
  const reference = input.history.reference;
  if (!slope || reference === null) return "";
  const perYear = slope.times(YEAR_DAYS).div(reference);
  return `By ${percentWords(perYear)} a year over ${countedNoun(counting.length, "calibration")}${towardsWords(input)}.`;
}

function fewWords({ history }: VerdictInput): string {
  const { counting, begunBy, chart } = history.current;
  const since = begunBy ? ` since ${begunBy.words} (${dateOfDay(begunBy.day.toNumber())})` : "";
  const n = counting.length;
  if (n === 0) return `No calibration${since}.`;
  const link = history.chain.get(memberAt(counting, n - 1));
  const agreement =
    link && n > 1 ? ` The last two agree (E_n ${link.normalisedError.abs().toFixed(2)}).` : "";
  const within = n > 2 && chart?.levels.every((level) => level === "within");
  return `${countedNoun(n, "calibration")}${since}${within ? ", each within the limits of those before" : ""}: a drift can show from ${LEAST_FOR_STEADY}.${within ? "" : agreement}`;
}

function steadyWords({ history, points }: VerdictInput): string {
  const { counting, chart } = history.current;
  const lone = [...history.lone].at(-1);
  const apart =
    lone === undefined
      ? ""
      : ` One value (${dateOf(memberAt(points, lone))}) lies apart from both neighbours and is left out.`;
  const slope = chart?.drift?.line.slope;
  const settled = history.steps.some((step) => step.to === counting[0]) ? " on the new level" : "";
  if (!slope || history.reference === null) {
    return `${countedNoun(counting.length, "calibration")} within their limits${settled}.${apart}`;
  }
  const perYear = percentWords(slope.times(YEAR_DAYS).div(history.reference));
  return `${countedNoun(counting.length, "calibration")} without drift or jump${settled} (slope ${perYear} a year, not significant).${apart}`;
}

/** How a train stands, from its history: the one word for its card and the line beneath. */
export function trendVerdict(input: VerdictInput): TrendVerdict {
  const { history, dueDay, today } = input;
  const { counting, chart } = history.current;
  const change = changed(input);
  if (change?.kind === "jumped") return change;
  if (chart?.drifting) return { kind: "drifting", why: driftWords(input) };
  if (input.points.length === 0) return { kind: "not calibrated", why: "No calibration yet." };
  if (dueDay !== null && dueDay < today) {
    const days = today - dueDay;
    return {
      kind: "overdue",
      why: `Due ${countedNoun(days, "day")} ago: what happened since the last calibration is not known.`,
    };
  }
  if (change) return change;
  if (counting.length < LEAST_FOR_STEADY) return { kind: "too few points", why: fewWords(input) };
  return { kind: "steady", why: steadyWords(input) };
}
