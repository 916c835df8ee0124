import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Measurement, Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import type { TraceChain, TraceElsewhere } from "#core/contract/records/trace.ts";
import { typedElsewhere } from "#core/measurement/elsewhere-words.ts";
import { trainName } from "#core/optics/train-name.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listAttachments } from "../../store/repositories/attachment-repository.ts";
import { trailOf } from "../../store/repositories/audit-trail.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { checksOfCalibration } from "../../store/repositories/check-repository.ts";
import { eventsOfTrain } from "../../store/repositories/event-repository.ts";
import { findMicrometer } from "../../store/repositories/micrometer-repository.ts";
import { findMicroscope } from "../../store/repositories/microscope-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { findRow } from "../../store/repositories/row-repository.ts";
import { replacementOf } from "../../store/repositories/service-state-repository.ts";
import { supersededOfRow } from "../../store/repositories/superseded-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import { approvalOfCalibration } from "../calibration/confirmations.ts";
import { withOpenTrains } from "../equipment/train-fitness.ts";
import { requireMethod } from "../methods/methods.ts";
import { signOffsAsTheyStand } from "../records/sign-offs.ts";
import { requireSheet } from "../sheets/sheets.ts";

function present<T>(found: T | null | undefined, what: string): T {
  if (found === null || found === undefined) throw new Error(`${what} of a result is missing`);
  return found;
}

function requireRow(db: ReadableDb, rowId: string): SpecimenRow {
  const row = findRow(db, rowId);
  if (!row) throw new Refusal("row.unknown", "That row is not on this bench.", { field: "rowId" });
  return row;
}

function requireMeasurement(db: ReadableDb, rowId: string, dimension: string): [SpecimenRow, Measurement] {
  const row = requireRow(db, rowId);
  const measurement = row.measurements.find((one) => one.dimension === dimension);
  if (measurement) return [row, measurement];
  if (typedElsewhere(row.elsewhere, dimension) !== null) {
    throw new Refusal("dimension.elsewhere", `That size of row ${row.ordinal} was converted elsewhere.`, {
      field: "dimension",
    });
  }
  throw new Refusal("dimension.unknown", `Row ${row.ordinal} has no reading of that dimension.`, {
    field: "dimension",
  });
}

/** What a calibration was at an instant, by its dates. One recalculated later stands for the one it came from. */
function stateAt(
  db: ReadableDb,
  calibration: CalibrationRecord,
  instant: string,
): CalibrationRecord["state"] {
  const from = approvalOfCalibration(db, calibration.id)?.recalculatedFrom;
  const origin = from ? findCalibration(db, from) : null;
  if (origin) return stateAt(db, origin, instant);
  const { state, inForceAt, endedAt } = calibration;
  if (inForceAt === null || inForceAt > instant) return "draft";
  if (endedAt !== null && endedAt <= instant) return state;
  return "in force";
}

function calibrationLink(db: ReadableDb, measurement: Measurement): TraceChain["calibration"] {
  if (measurement.calibrationId === null) return null;
  const record = present(findCalibration(db, measurement.calibrationId), "the calibration");
  return {
    record,
    approval: present(approvalOfCalibration(db, record.id), "the standing of the calibration"),
    stateThen: stateAt(db, record, measurement.enteredAt),
    attachments: listAttachments(db, { kind: "calibration", id: record.id }),
    checks: checksOfCalibration(db, record.id),
  };
}

type MicrometerLinks = Pick<
  TraceChain,
  "micrometer" | "micrometerAttachments" | "certificate" | "certificateReplacement" | "certificateAttachments"
>;

function micrometerLinks(db: ReadableDb, calibration: CalibrationRecord | undefined): MicrometerLinks {
  if (!calibration) {
    return {
      micrometer: null,
      micrometerAttachments: [],
      certificate: null,
      certificateReplacement: null,
      certificateAttachments: [],
    };
  }
  const found: StageMicrometer = present(
    findMicrometer(db, calibration.stageMicrometerId),
    "the stage micrometer",
  );
  const { certificates, ...micrometer } = found;
  const { certificateId } = calibration;
  return {
    micrometer,
    micrometerAttachments: listAttachments(db, { kind: "stage micrometer", id: micrometer.id }),
    certificate: present(
      certificates.find((one) => one.id === certificateId),
      "the certificate",
    ),
    certificateReplacement: replacementOf(db, certificateId),
    certificateAttachments: listAttachments(db, { kind: "certificate", id: certificateId }),
  };
}

/** Collects every person named anywhere in the chain. */
function peopleOf(
  db: ReadableDb,
  chain: Omit<TraceChain, "people"> | Omit<TraceElsewhere, "people">,
): TraceChain["people"] {
  const text = JSON.stringify(chain);
  return listPeople(db).filter(({ id }) => text.includes(JSON.stringify(id)));
}

/**
 * A size that was converted elsewhere, with what the trail tells of its coming in.
 * @throws Refusal `row.unknown`, `dimension.unknown`
 */
export function traceElsewhere(db: ReadableDb, rowId: string, dimension: string): TraceElsewhere {
  const row = requireRow(db, rowId);
  const typed = typedElsewhere(row.elsewhere, dimension);
  if (!row.elsewhere || typed === null) {
    throw new Refusal("dimension.unknown", `Row ${row.ordinal} has no size that was converted elsewhere.`, {
      field: "dimension",
    });
  }
  const sheet = requireSheet(db, row.sheetId);
  const { dimensions } = requireMethod(db, sheet.methodId, "rowId").definition;
  const found = {
    sheet,
    row,
    dimensionName: dimensions.find((one) => one.key === dimension)?.name ?? dimension,
    typed,
    convertedBy: row.elsewhere.convertedBy,
    trail: trailOf(db, row.id),
  };
  return { ...found, people: peopleOf(db, found) };
}

/**
 * One result with everything behind it: readings, method, train, calibration, micrometer, certificate, laboratory.
 * @throws Refusal `row.unknown`, `dimension.unknown`, `dimension.elsewhere`
 */
export function traceBackward(db: ReadableDb, rowId: string, dimension: string, asOf: string): TraceChain {
  const [row, measurement] = requireMeasurement(db, rowId, dimension);
  const sheet: Sheet = requireSheet(db, row.sheetId);
  const method = requireMethod(db, sheet.methodId, "rowId");
  const train = present(findTrain(db, measurement.trainId), "the train");
  const microscope = present(findMicroscope(db, train.microscopeId), "the microscope");
  const calibration = calibrationLink(db, measurement);
  const chain = {
    asOf,
    sheet,
    row,
    measurement,
    dimensionName: method.definition.dimensions.find((one) => one.key === dimension)?.name ?? dimension,
    method,
    microscope,
    train,
    trainName: trainName(train, microscope),
    signOffs: signOffsAsTheyStand(db, sheet.id),
    trail: trailOf(db, row.id),
    earlierResults: supersededOfRow(db, row.id).filter((one) => one.measurement.dimension === dimension),
    calibration,
    ...micrometerLinks(db, calibration?.record),
    events: eventsOfTrain(db, train.id).map((event) => withOpenTrains(db, event)),
  };
  return { ...chain, people: peopleOf(db, chain) };
}
