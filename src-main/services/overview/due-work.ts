import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { DueItem, DueWork } from "#core/contract/records/due-work.ts";
import type { LaboratorySettings } from "#core/contract/records/laboratory.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import { trainName } from "#core/optics/train-name.ts";
import { isEnded } from "#core/optics/turret.ts";
import { exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import { asSentence } from "#core/quantity/as-sentence.ts";
import { daysAfter, daysBetween } from "#core/trends/civil-day.ts";
import { handlers } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { trailOf } from "../../store/repositories/audit-trail.ts";
import { calibrationInForce } from "../../store/repositories/calibration-repository.ts";
import { lastPassedCheck } from "../../store/repositories/check-repository.ts";
import { listEvents } from "../../store/repositories/event-repository.ts";
import { laboratorySettings } from "../../store/repositories/laboratory-repository.ts";
import { findCertificate, listMicrometers } from "../../store/repositories/micrometer-repository.ts";
import { listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { scoredAttempts } from "../../store/repositories/practice-certificate-repository.ts";
import {
  listReplacements,
  outOfServiceSince,
  replacementOf,
} from "../../store/repositories/service-state-repository.ts";
import { trainsOfMicroscope } from "../../store/repositories/train-repository.ts";
import { fitnessOfTrain, openTrainsOf } from "../equipment/train-fitness.ts";
import { isSetAside } from "../people/require-here.ts";
import { competenceOfAll } from "../practice/certificates.ts";
import type { Deps } from "../write-context/deps.ts";

type Due = Omit<DueItem, "daysLeft">;

/** The reason given when the calibration was put in force, from the trail. */
function reasonOf(db: ReadableDb, calibration: CalibrationRecord): string {
  return trailOf(db, calibration.id).find((line) => line.act === "calibrations.putInForce")?.reason ?? "";
}

function calibrationDue(db: ReadableDb, calibration: CalibrationRecord, what: string): Due[] {
  const { id, trainId, dueOn, inForceAt } = calibration;
  if (dueOn === null || inForceAt === null) return [];
  const intervalDays = daysBetween(inForceAt.slice(0, 10), dueOn);
  return [{ kind: "calibration", id, trainId, what, dueOn, intervalDays, reason: reasonOf(db, calibration) }];
}

function checkDue(
  db: ReadableDb,
  calibration: CalibrationRecord,
  what: string,
  { checkIntervalDays, checkIntervalReason }: LaboratorySettings,
): Due[] {
  if (checkIntervalDays === null) return [];
  const { id, trainId, startedAt } = calibration;
  const checked = lastPassedCheck(db, trainId);
  const last = checked !== null && checked > startedAt ? checked : startedAt;
  const dueOn = daysAfter(last.slice(0, 10), checkIntervalDays);
  return [
    { kind: "check", id, trainId, what, dueOn, intervalDays: checkIntervalDays, reason: checkIntervalReason },
  ];
}

/** A factor in force that rests on a certificate a corrected one took the place of; due since that day. */
function replacementDue(db: ReadableDb, { certificateId, trainId }: CalibrationRecord, what: string): Due[] {
  const replaced = replacementOf(db, certificateId);
  if (!replaced) return [];
  const before = findCertificate(db, certificateId)?.number ?? "";
  const by = findCertificate(db, replaced.replacedBy)?.number ?? "";
  return [
    {
      kind: "replaced certificate",
      id: certificateId,
      trainId,
      what: `replaced certificate behind ${what}`,
      dueOn: replaced.at.slice(0, 10),
      intervalDays: null,
      reason: `${by} took the place of ${before}: ${asSentence(replaced.reason)} See what it touched and re-evaluate with ${by}, or calibrate anew.`,
    },
  ];
}

function dueOfTrain(
  db: ReadableDb,
  train: OpticalTrain,
  microscope: Microscope,
  laboratory: LaboratorySettings,
  today: string,
): { readonly due: Due[]; readonly certificateId: string | null } {
  const inForce = calibrationInForce(db, train.id);
  if (!inForce || fitnessOfTrain(db, train, inForce, today).state === "out of service") {
    return { due: [], certificateId: null };
  }
  const what = trainName(train, microscope);
  const due = [
    ...replacementDue(db, inForce, what),
    ...calibrationDue(db, inForce, what),
    ...checkDue(db, inForce, what, laboratory),
  ];
  return { due, certificateId: inForce.certificateId };
}

/** Certificates still to be renewed: the newest of every micrometer in service, and any that a factor rests on. */
function certificatesDue(db: ReadableDb, inUse: ReadonlySet<string>, today: string): Due[] {
  const replaced = new Set(listReplacements(db).map((one) => one.certificateId));
  return listMicrometers(db)
    .filter(({ id }) => !outOfServiceSince(db, { kind: "stage micrometer", id }, today))
    .flatMap((micrometer) => {
      const valid = micrometer.certificates.filter(({ id }) => !replaced.has(id));
      return valid
        .filter((certificate) => inUse.has(certificate.id) || certificate === valid.at(-1))
        .map(
          ({ id, number, calibratedOn, dueOn, dueReason }): Due => ({
            kind: "certificate",
            id,
            trainId: null,
            what: `certificate ${number} of ${micrometer.name}`,
            dueOn,
            intervalDays: daysBetween(calibratedOn, dueOn),
            reason: dueReason,
          }),
        );
    });
}

/** Of trains that have not ended: their names are given. */
function eventsDue(db: ReadableDb, names: ReadonlyMap<string, string>): Due[] {
  return listEvents(db).flatMap((event) =>
    openTrainsOf(db, event)
      .filter((trainId) => names.has(trainId))
      .map(
        (trainId): Due => ({
          kind: "event",
          id: event.id,
          trainId,
          what: names.get(trainId) ?? "",
          dueOn: event.happenedOn,
          intervalDays: null,
          reason: `${event.kind}: ${event.words}`,
        }),
      ),
  );
}

/** Who is to show it again. A proof that lapsed longer ago than it had lasted is not asked for any more. */
function practiceDue(db: ReadableDb, today: string): Due[] {
  const names = new Map(listPeople(db).map(({ id, name }) => [id, name]));
  const ended = new Map(scoredAttempts(db, null).map(({ attemptId, endedAt }) => [attemptId, endedAt]));
  return competenceOfAll(db, today).flatMap(
    ({ personId, exercise, state, until, attemptId, certificate }): Due[] => {
      if (isSetAside(db, personId)) return [];
      const met = ended.get(attemptId ?? "")?.slice(0, 10);
      if (until === null || attemptId === null || met === undefined) return [];
      const what = `practice of ${names.get(personId) ?? ""}: ${exerciseNamed(exercise).title}`;
      if (state === "withdrawn" && certificate?.withdrawn) {
        const dueOn = certificate.withdrawn.at.slice(0, 10);
        const reason = `Met on ${met}; certificate no. ${certificate.number} was withdrawn on ${dueOn}.`;
        return [{ kind: "practice", id: attemptId, trainId: null, what, dueOn, intervalDays: null, reason }];
      }
      const intervalDays = daysBetween(met, until);
      if (daysBetween(until, today) > intervalDays) return [];
      const reason = `Met on ${met}, taken as proven until ${until}${state === "awaits an examiner" ? " once an examiner has signed" : ""}.`;
      return [{ kind: "practice", id: attemptId, trainId: null, what, dueOn: until, intervalDays, reason }];
    },
  );
}

function everythingDue({ db, clock }: Deps): DueItem[] {
  const today = clock.today();
  const laboratory = laboratorySettings(db);
  const inUse = new Set<string>();
  const names = new Map<string, string>();
  const ofTrains = listMicroscopes(db).flatMap((microscope) =>
    trainsOfMicroscope(db, microscope.id).flatMap((train) => {
      if (!isEnded(train, microscope)) names.set(train.id, trainName(train, microscope));
      const { due, certificateId } = dueOfTrain(db, train, microscope, laboratory, today);
      if (certificateId) inUse.add(certificateId);
      return due;
    }),
  );
  return [
    ...ofTrains,
    ...certificatesDue(db, inUse, today),
    ...eventsDue(db, names),
    ...practiceDue(db, today),
  ]
    .map((item) => ({ ...item, daysLeft: daysBetween(today, item.dueOn) }))
    .sort((one, other) => (one.dueOn < other.dueOn ? -1 : one.dueOn > other.dueOn ? 1 : 0));
}

export function dueWorkServices(deps: Deps) {
  return handlers({
    "due.list": ({ withinDays }): DueWork => {
      const items = everythingDue(deps);
      const within = (days: number): number =>
        items.filter(({ daysLeft }) => daysLeft >= 0 && daysLeft <= days).length;
      return {
        asOf: deps.clock.today(),
        items: items.filter(({ daysLeft }) => daysLeft <= withinDays),
        counts: {
          overdue: items.filter(({ daysLeft }) => daysLeft < 0).length,
          within30: within(30),
          within90: within(90),
        },
      };
    },
  });
}
