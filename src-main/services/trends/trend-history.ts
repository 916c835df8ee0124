import { PROPOSED_LIMITS } from "#core/calibration/limits.ts";
import type { EventKind } from "#core/contract/records/equipment-event.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { TrendEvent, TrendTolerance } from "#core/contract/records/trend.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import type { DecimalText } from "#core/quantity/decimal-text.ts";
import { type AssessedHistory, assessHistory } from "#core/trends/assess-history.ts";
import { dayOfDate } from "#core/trends/civil-day.ts";
import type { HistoryFactor } from "#core/trends/history-factor.ts";
import { referenceChanges } from "#core/trends/reference-change.ts";
import { type NamedEvent, type TrendVerdict, trendVerdict } from "#core/trends/trend-verdict.ts";
import { localDate } from "../../ports/local-date.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findPerson } from "../../store/repositories/people-repository.ts";
import {
  eventsOfTrain,
  factorsOfTrain,
  latestTolerance,
  type ReferenceName,
  recalculationsOfTrain,
  referenceNames,
  type StoredEvent,
  type StoredFactor,
} from "../../store/repositories/trend-repository.ts";

/** A calibration that has a result, as a point of its train's history. */
export interface HistoryCalibration {
  readonly calibration: StoredFactor;
  /** When the settings were made that it rests on: a recalculated one keeps the date of its settings. */
  readonly at: string;
  readonly date: string;
  readonly reference: ReferenceName;
  readonly point: HistoryFactor;
}

/** Everything known of one train's factor over time. */
export interface TrendHistory {
  readonly train: OpticalTrain;
  readonly calibrations: readonly HistoryCalibration[];
  readonly events: readonly (TrendEvent & NamedEvent)[];
  readonly history: AssessedHistory<NamedEvent>;
  readonly verdict: TrendVerdict;
  readonly tolerance: TrendTolerance;
  /** Relative. */
  readonly toleranceShare: Decimal;
  /** The day the factor in force falls due, or its certificate, whichever comes first. */
  readonly dueOn: string | null;
}

/** What all histories of a bench share; read once for many trains. */
export interface TrendContext {
  readonly db: ReadableDb;
  readonly today: string;
  readonly references: ReadonlyMap<string, ReferenceName>;
  readonly tolerance: TrendTolerance;
}

export function trendContext(db: ReadableDb, today: string): TrendContext {
  return { db, today, references: referenceNames(db), tolerance: toleranceInUse(db) };
}

const PROPOSAL = PROPOSED_LIMITS["change-stop"];

/** The latest decision, or the proposal. */
export function toleranceInUse(db: ReadableDb): TrendTolerance {
  const decided = latestTolerance(db);
  if (!decided) {
    return {
      percent: PROPOSAL.value as DecimalText,
      origin: `Proposal, the stop limit for change. ${PROPOSAL.origin}`,
      rule: "guarded-acceptance",
    };
  }
  const by = findPerson(db, decided.by)?.name ?? decided.by;
  return {
    percent: decided.percent as DecimalText,
    origin: `Decided on ${localDate(decided.at)} by ${by}: ${decided.reason}`,
    rule: decided.rule ?? "guarded-acceptance",
  };
}

/**
 * What may have changed the train itself begins a new baseline; a new person or something else is only marked, as is a
 * return of which somebody states that nothing was changed.
 */
const EVENTS: Readonly<Record<EventKind, { readonly name: string; readonly breaks: boolean }>> = {
  serviced: { name: "a service", breaks: true },
  knocked: { name: "a knock", breaks: true },
  "reticle removed": { name: "a removal of the reticle", breaks: true },
  "head changed": { name: "a change of the head", breaks: true },
  "eyepiece moved": { name: "a move of the eyepiece", breaks: true },
  "new person": { name: "a new person", breaks: false },
  lent: { name: "a loan of the eyepiece", breaks: false },
  "brought back": { name: "a return of the eyepiece", breaks: true },
  other: { name: "an event", breaks: false },
};

type DatedEvent = TrendEvent & NamedEvent;

function recordedEvent({ kind, happenedOn, words, unchanged }: StoredEvent): DatedEvent {
  const { name, breaks } = EVENTS[kind];
  return {
    date: happenedOn,
    day: decimal(dayOfDate("happenedOn", happenedOn)),
    kind: "event",
    words: unchanged ? `${name}, nothing changed: ${words}` : `${name}: ${words}`,
    breaks: breaks && !unchanged,
  };
}

function referenceEvents(points: readonly HistoryCalibration[]): DatedEvent[] {
  const counting = points.filter(({ point }) => !point.withdrawn);
  return referenceChanges(counting.map(({ point }) => point)).flatMap(({ index, day }) => {
    const [before, after] = [counting[index - 1], counting[index]];
    if (!before || !after) return [];
    const same = before.reference.micrometerId === after.reference.micrometerId;
    return [
      {
        date: after.date,
        day,
        kind: same ? ("certificate" as const) : ("micrometer" as const),
        words: same
          ? `a change of certificate to ${after.reference.certificate}`
          : `a change of stage micrometer to ${after.reference.micrometer}`,
        breaks: true,
      },
    ];
  });
}

function withdrawalEvents(points: readonly HistoryCalibration[]): DatedEvent[] {
  return points.flatMap(({ calibration, date }) => {
    if (calibration.state !== "withdrawn" || calibration.endedAt === null) return [];
    const on = localDate(calibration.endedAt);
    return [
      {
        date: on,
        day: decimal(dayOfDate("endedAt", on)),
        kind: "withdrawal" as const,
        words: `the calibration of ${date} was withdrawn: ${calibration.endReason ?? ""}`,
        breaks: false,
      },
    ];
  });
}

function historyCalibrations({ db, references }: TrendContext, trainId: string): HistoryCalibration[] {
  const records = factorsOfTrain(db, trainId);
  const origins = recalculationsOfTrain(db, trainId);
  const byId = new Map(records.map((one) => [one.id, one]));
  const replaced = new Set(origins.values());
  const madeAt = (one: StoredFactor): string => {
    const origin = byId.get(origins.get(one.id) ?? "");
    return origin ? madeAt(origin) : one.inForceAt;
  };
  return records
    .flatMap((calibration): HistoryCalibration[] => {
      const at = madeAt(calibration);
      const reference = references.get(calibration.certificateId);
      if (!reference) return [];
      const date = localDate(at);
      const point: HistoryFactor = {
        day: decimal(dayOfDate("inForceAt", date)),
        value: decimal(calibration.factor),
        standardUncertainty: decimal(calibration.standardUncertainty),
        expandedUncertainty: decimal(calibration.expandedUncertainty),
        commonUncertainty: decimal(calibration.commonUncertainty),
        occasionUncertainty: decimal(calibration.occasionUncertainty),
        reference: `${calibration.stageMicrometerId} ${calibration.certificateId}`,
        withdrawn: calibration.state === "withdrawn" || replaced.has(calibration.id),
      };
      return [{ calibration, at, date, reference, point }];
    })
    .sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
}

function dueOnOf(points: readonly HistoryCalibration[]): string | null {
  const inForce = points.find(({ calibration }) => calibration.state === "in force");
  if (!inForce?.calibration.dueOn) return null;
  return [inForce.calibration.dueOn, inForce.reference.dueOn].sort()[0] ?? null;
}

/** The history of one train, read from its records and assessed by the core. */
export function trendHistory(context: TrendContext, train: OpticalTrain): TrendHistory {
  const { db, today, tolerance } = context;
  const calibrations = historyCalibrations(context, train.id);
  const points = calibrations.map(({ point }) => point);
  const events = [
    ...eventsOfTrain(db, train.id).map(recordedEvent),
    ...referenceEvents(calibrations),
    ...withdrawalEvents(calibrations),
  ].sort((a, b) => a.day.cmp(b.day));
  const toleranceShare = decimal(tolerance.percent).div(100);
  const history = assessHistory<NamedEvent>({ points, events, tolerance: toleranceShare });
  const dueOn = dueOnOf(calibrations);
  const verdict = trendVerdict({
    history,
    points,
    tolerance: toleranceShare,
    dueDay: dueOn === null ? null : dayOfDate("dueOn", dueOn),
    today: dayOfDate("today", today),
  });
  return { train, calibrations, events, history, verdict, tolerance, toleranceShare, dueOn };
}
