import type { z } from "zod";
import type { CalibrationRecord, FactorRecord } from "#core/contract/records/calibration.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Certificate } from "#core/contract/records/stage-micrometer.ts";
import type { Replacement, TraceScope, TraceSubject } from "#core/contract/records/trace.ts";
import { trainName } from "#core/optics/train-name.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { daysAfter } from "#core/trends/civil-day.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { findEvent } from "../../store/repositories/event-repository.ts";
import { findCertificate, findMicrometer } from "../../store/repositories/micrometer-repository.ts";
import { findMicroscope, listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { isRegistered } from "../../store/repositories/service-state-repository.ts";
import { calibrationIdsReached } from "../../store/repositories/trace-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import { factorFromTyped } from "../calibration/calibration-result.ts";
import { basisOfDraft } from "../calibration/repeatability.ts";

type Scope = z.output<typeof TraceScope>;

/** A calibration in a scope, and what the replacement makes of it. */
export interface ReachedCalibration {
  readonly record: CalibrationRecord;
  readonly factor: FactorRecord;
  readonly train: OpticalTrain;
  readonly trainName: string;
  /** null: the replacement does not reach it, or there is none, or it cannot be worked out. */
  readonly replacement: FactorRecord | null;
  readonly problem: string | null;
}

export interface ResolvedScope {
  readonly scope: Scope;
  readonly subjectName: string;
  readonly replacementName: string | null;
  readonly calibrations: readonly ReachedCalibration[];
  /** Instants: at or after, before. */
  readonly notBefore: string;
  readonly before: string;
}

const EARLIEST = "0000-01-01T00:00:00.000Z";
const LATEST = "9999-12-31T23:59:59.999Z";

function trainNameOf(db: ReadableDb, trainId: string): { train: OpticalTrain; name: string } {
  const train = findTrain(db, trainId);
  const microscope = train && findMicroscope(db, train.microscopeId);
  if (!microscope) throw new Error(`train ${trainId} or its microscope is missing`);
  return { train, name: trainName(train, microscope) };
}

function certificateName(db: ReadableDb, certificate: Certificate): string {
  const micrometer = findMicrometer(db, certificate.stageMicrometerId);
  return `certificate ${certificate.number} of ${micrometer?.name ?? "a stage micrometer"}`;
}

function calibrationName(db: ReadableDb, calibration: CalibrationRecord): string {
  return `calibration of ${trainNameOf(db, calibration.trainId).name} of ${calibration.startedAt.slice(0, 10)}`;
}

function partName(db: ReadableDb, { kind, id }: TraceSubject): string {
  for (const microscope of listMicroscopes(db)) {
    if (kind === "microscope" && microscope.id === id) return `microscope ${microscope.name}`;
    const objective = microscope.objectives.find((one) => kind === "objective" && one.id === id);
    if (objective) {
      return `objective ${objective.magnification}× in position ${objective.position} of ${microscope.name}`;
    }
    const eyepiece = microscope.eyepieces.find((one) => kind === "reticle" && one.reticle.id === id);
    if (eyepiece) return `reticle ${eyepiece.reticle.engraving} of ${eyepiece.name} on ${microscope.name}`;
  }
  return kind;
}

function nameOf(db: ReadableDb, subject: TraceSubject): string {
  const certificate = subject.kind === "certificate" && findCertificate(db, subject.id);
  if (certificate) return certificateName(db, certificate);
  const calibration = subject.kind === "calibration" && findCalibration(db, subject.id);
  if (calibration) return calibrationName(db, calibration);
  const event = subject.kind === "event" && findEvent(db, subject.id);
  if (event) return `event of ${event.happenedOn}: ${event.kind}, ${event.words}`;
  if (subject.kind === "stage micrometer") {
    return `stage micrometer ${findMicrometer(db, subject.id)?.name ?? ""}`;
  }
  return partName(db, subject);
}

type Outcome = Pick<ReachedCalibration, "replacement" | "problem">;
const UNREACHED: Outcome = { replacement: null, problem: null };

interface Replacing {
  readonly name: string;
  of(calibration: CalibrationRecord): Outcome;
}

function byCertificate(db: ReadableDb, certificateId: string): Replacing {
  const certificate = findCertificate(db, certificateId);
  const micrometer = certificate && findMicrometer(db, certificate.stageMicrometerId);
  if (!micrometer) {
    throw new Refusal("replacement.unknown", "That certificate is not on this bench.", {
      field: "replacement",
    });
  }
  return {
    name: certificateName(db, certificate),
    of(calibration) {
      if (calibration.stageMicrometerId !== micrometer.id || calibration.certificateId === certificate.id) {
        return UNREACHED;
      }
      try {
        const basis = basisOfDraft(db, calibration);
        return { replacement: factorFromTyped(calibration, micrometer, certificate, basis), problem: null };
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        return { replacement: null, problem: `With this certificate ${error.field} ${error.reason}.` };
      }
    },
  };
}

function byCalibration(db: ReadableDb, calibrationId: string): Replacing {
  const other = findCalibration(db, calibrationId);
  if (!other?.result || other.state === "withdrawn") {
    throw new Refusal(
      "replacement.unknown",
      "There is no calibration with a factor in force or superseded to take.",
      {
        field: "replacement",
        hint: "Choose a calibration that was put in force and not withdrawn.",
      },
    );
  }
  const { result } = other;
  return {
    name: calibrationName(db, other),
    of: (calibration) =>
      calibration.trainId === other.trainId && calibration.id !== other.id
        ? { replacement: result, problem: null }
        : UNREACHED,
  };
}

function replacing(db: ReadableDb, replacement: Replacement | null): Replacing | null {
  if (replacement === null) return null;
  return replacement.kind === "certificate"
    ? byCertificate(db, replacement.certificateId)
    : byCalibration(db, replacement.calibrationId);
}

/** The instants between which results are meant; what happened before an event is not in doubt because of it. */
export function windowOf(
  db: ReadableDb,
  { subject, from, to }: Pick<Scope, "subject" | "from" | "to">,
): Pick<ResolvedScope, "notBefore" | "before"> {
  const since = from ?? (subject.kind === "event" ? (findEvent(db, subject.id)?.happenedOn ?? null) : null);
  return {
    notBefore: since === null ? EARLIEST : `${since}T00:00:00.000Z`,
    before: to === null ? LATEST : `${daysAfter(to, 1)}T00:00:00.000Z`,
  };
}

/**
 * Works out which calibrations a subject reaches and what a replacement makes of each: a factor derived again from the
 * stored settings, or that of the other calibration.
 * @throws Refusal `subject.unknown`, `replacement.unknown`, `replacement.unusable` when it reaches none of them
 */
export function resolveScope(db: ReadableDb, scope: Scope): ResolvedScope {
  const { subject } = scope;
  if (!isRegistered(db, subject.kind, subject.id)) {
    throw new Refusal("subject.unknown", `That ${subject.kind} is not on this bench.`, { field: "subject" });
  }
  const by = replacing(db, scope.replacement);
  const calibrations = calibrationIdsReached(db, subject.kind, subject.id).map((id): ReachedCalibration => {
    const record = findCalibration(db, id);
    if (!record?.result) throw new Error(`calibration ${id} has lost its result`);
    const { train, name } = trainNameOf(db, record.trainId);
    return { record, factor: record.result, train, trainName: name, ...(by?.of(record) ?? UNREACHED) };
  });
  if (by && !calibrations.some((one) => one.replacement ?? one.problem)) {
    throw new Refusal(
      "replacement.unusable",
      `The ${by.name} can take the place of no calibration that the ${nameOf(db, subject)} reaches.`,
      {
        field: "replacement",
        hint: "Choose another certificate of the same stage micrometer, or another calibration of the same train.",
      },
    );
  }
  return {
    scope,
    subjectName: nameOf(db, subject),
    replacementName: by?.name ?? null,
    calibrations,
    ...windowOf(db, scope),
  };
}
