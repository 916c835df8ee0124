import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { EquipmentEvent } from "#core/contract/records/equipment-event.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { ServiceState } from "#core/contract/records/service-state.ts";
import { asksForCheck } from "#core/optics/lent-eyepiece.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationInForce } from "../../store/repositories/calibration-repository.ts";
import { lastCheck, lastPassedCheck, NOW_AND_ALWAYS } from "../../store/repositories/check-repository.ts";
import { eventsOfTrain, type StoredEvent } from "../../store/repositories/event-repository.ts";
import { outOfServiceSince, replacementOf } from "../../store/repositories/service-state-repository.ts";
import { whyLent } from "./lent-eyepiece.ts";
import { whyReplaced } from "./replaced-objective.ts";

/** Whether a train may be used as it stands, apart from its due dates. */
export interface TrainFitness {
  readonly state: "usable" | "check before use" | "out of service";
  /** One sentence; empty when usable. */
  readonly why: string;
  /** Set when a replaced certificate is the reason: no check helps, only re-evaluation or a calibration. */
  readonly replacedCertificateId: string | null;
}

/** Why a train whose last check failed is to be checked before use. */
export function wordsOfFailedCheck(at: string): string {
  return `The check of ${at.slice(0, 10)} failed: find the cause, check again or calibrate it before use.`;
}

const USABLE: TrainFitness = { state: "usable", why: "", replacedCertificateId: null };

function whyOutOfService(db: ReadableDb, train: OpticalTrain, today: string, until: string): string | null {
  const replaced = whyReplaced(db, train.objectiveId, today);
  if (replaced) return replaced;
  const lent = whyLent(db, train.eyepieceId, today, until);
  if (lent) return `Its eyepiece ${lent}`;
  const out = firstOutOfService(db, train, today);
  return out && `Its ${out.item.kind} is out of service since ${out.from}: ${out.reason}`;
}

function firstOutOfService(db: ReadableDb, train: OpticalTrain, today: string): ServiceState | null {
  return (
    outOfServiceSince(db, { kind: "microscope", id: train.microscopeId }, today) ??
    outOfServiceSince(db, { kind: "objective", id: train.objectiveId }, today) ??
    outOfServiceSince(db, { kind: "eyepiece", id: train.eyepieceId }, today)
  );
}

/** True when what was found at `instant` speaks for the time after the event; on the day itself only what came later. */
function isAfter(instant: string, event: StoredEvent): boolean {
  const day = instant.slice(0, 10);
  return day > event.happenedOn || (day === event.happenedOn && instant > event.recordedAt);
}

/** When a train was last proven: the settings of its calibration in force, or a passed check. */
function provenAt(
  db: ReadableDb,
  trainId: string,
  inForce: CalibrationRecord | null,
  until?: string,
): string[] {
  return [inForce?.startedAt ?? null, lastPassedCheck(db, trainId, until)].filter((one) => one !== null);
}

/** The trains that an event left to be checked and that were neither checked nor calibrated since. */
export function openTrainsOf(db: ReadableDb, event: StoredEvent): string[] {
  if (!asksForCheck(event)) return [];
  return event.trainIds.filter(
    (id) => !provenAt(db, id, calibrationInForce(db, id)).some((instant) => isAfter(instant, event)),
  );
}

/** The returns of its eyepiece since a calibration that no check followed: there its factor rests on a statement. */
export function statedReturnsSince(db: ReadableDb, calibration: CalibrationRecord): StoredEvent[] {
  const proven = provenAt(db, calibration.trainId, calibration);
  return eventsOfTrain(db, calibration.trainId).filter(
    (event) =>
      event.unchanged &&
      event.recordedAt > calibration.startedAt &&
      !proven.some((instant) => isAfter(instant, event)),
  );
}

export function withOpenTrains(db: ReadableDb, event: StoredEvent): EquipmentEvent {
  return { ...event, openTrainIds: openTrainsOf(db, event) };
}

/**
 * @param inForce the calibration in force of this train, when there is one
 * @param until only what was on record at this instant; left out: everything
 */
export function fitnessOfTrain(
  db: ReadableDb,
  train: OpticalTrain,
  inForce: CalibrationRecord | null,
  today: string,
  until = NOW_AND_ALWAYS,
): TrainFitness {
  const out = whyOutOfService(db, train, today, until);
  if (out !== null) return { state: "out of service", why: out, replacedCertificateId: null };
  const proven = provenAt(db, train.id, inForce, until);
  const open = eventsOfTrain(db, train.id).find(
    (event) =>
      asksForCheck(event) && event.recordedAt <= until && !proven.some((instant) => isAfter(instant, event)),
  );
  if (open) {
    return {
      state: "check before use",
      why: `${open.kind[0]?.toUpperCase()}${open.kind.slice(1)} on ${open.happenedOn} (${open.words}): check or calibrate it before use.`,
      replacedCertificateId: null,
    };
  }
  const last = lastCheck(db, train.id, until);
  if (last && !last.passed && inForce && inForce.startedAt < last.at) {
    return {
      state: "check before use",
      why: wordsOfFailedCheck(last.at),
      replacedCertificateId: null,
    };
  }
  const replaced = inForce && replacementOf(db, inForce.certificateId);
  if (replaced && replaced.at <= until) {
    return {
      state: "check before use",
      why: `The certificate behind its factor was replaced on ${replaced.at.slice(0, 10)} (${replaced.reason}): re-evaluate it with the corrected one, or calibrate it.`,
      replacedCertificateId: replaced.certificateId,
    };
  }
  return USABLE;
}
