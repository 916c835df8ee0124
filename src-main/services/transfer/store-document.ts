import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { DocumentSheet } from "#core/contract/records/sheet-document.ts";
import type { StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import type { DetailOf, TrailEvent } from "#core/contract/trail-events/trail-event.ts";
import type { Ids } from "../../ports/ids.ts";
import type { WritableDb } from "../../store/connection.ts";
import { insertAssessment } from "../../store/repositories/assessment-repository.ts";
import { insertFrozen } from "../../store/repositories/calibration-repository.ts";
import { insertCheck, insertWithdrawal } from "../../store/repositories/check-repository.ts";
import { insertMethod } from "../../store/repositories/method-repository.ts";
import { insertCertificate, insertMicrometer } from "../../store/repositories/micrometer-repository.ts";
import { insertMicroscope } from "../../store/repositories/microscope-repository.ts";
import { insertOverdueUse } from "../../store/repositories/overdue-use-repository.ts";
import { insertPerson } from "../../store/repositories/people-repository.ts";
import {
  insertReadInAmendments,
  lastSupersededId,
  readInAmendmentsSha256,
} from "../../store/repositories/read-in-repository.ts";
import { sliceSha256 } from "../../store/repositories/reevaluated-results.ts";
import {
  appendRow,
  describeRow,
  putElsewhere,
  putMeasurement,
  strikeRow,
} from "../../store/repositories/row-repository.ts";
import { insertSheet, ordinalOfNumber, setConfirmed } from "../../store/repositories/sheet-repository.ts";
import { insertEndedSignOff } from "../../store/repositories/sign-off-repository.ts";
import { archiveResult } from "../../store/repositories/superseded-repository.ts";
import { findTrainOf, insertTrain } from "../../store/repositories/train-repository.ts";
import { trainsOf } from "../equipment/new-microscope-parts.ts";
import { stateForTrail } from "../sheets/row-from-trail.ts";
import type { DocumentRecords } from "./document-records.ts";

/** Where a document is stored, and who tells the trail. */
export interface Storing {
  readonly db: WritableDb;
  readonly ids: Ids;
  /** Of the reading-in: each line of the trail names it. */
  readonly readInId: string;
  note(event: TrailEvent<"documents.readIn">): void;
}

type Told = TrailEvent<"documents.readIn">;

function tell<S extends Told["subject"]>(
  { note, readInId }: Storing,
  subject: S,
  subjectId: string,
  detail: Omit<DetailOf<"documents.readIn", S>, "readIn">,
): void {
  const told = { act: "documents.readIn", subject, subjectId, detail: { ...detail, readIn: readInId } };
  note(told as unknown as Told);
}

/** The trains of the file under their identifiers, and the others that the same parts make. */
function storeTrains(
  { db, ids }: Storing,
  microscope: Microscope,
  trains: DocumentRecords["trains"],
): OpticalTrain[] {
  const own = [...trains.values()].filter((one) => one.microscopeId === microscope.id);
  for (const train of own) insertTrain(db, train);
  const made = trainsOf(ids, microscope, microscope.eyepieces, microscope.objectives).filter(
    (one) => findTrainOf(db, one) === null,
  );
  for (const train of made) insertTrain(db, train);
  return own;
}

function storeMicrometer(storing: Storing, micrometer: StageMicrometer): void {
  const { certificates, ...registered } = micrometer;
  insertMicrometer(storing.db, micrometer);
  tell(storing, "stage_micrometer", micrometer.id, registered);
  for (const certificate of certificates) {
    insertCertificate(storing.db, certificate);
    tell(storing, "certificate", certificate.id, certificate);
  }
}

/** People first: everything else names them. The trail is told of them once somebody is there to tell it. */
export function storePeople({ db }: Pick<Storing, "db">, { people }: DocumentRecords): void {
  for (const person of people.values()) insertPerson(db, person, { namesakes: true });
}

function storeRegisters(storing: Storing, records: DocumentRecords): void {
  const { db } = storing;
  for (const { id, name, initials, interpupillaryMm, registeredAt } of records.people.values()) {
    tell(storing, "person", id, { name, initials, interpupillaryMm, registeredAt });
  }
  for (const microscope of records.microscopes.values()) {
    insertMicroscope(db, microscope);
    const trains = storeTrains(storing, microscope, records.trains);
    tell(storing, "microscope", microscope.id, { ...microscope, trains });
  }
  for (const micrometer of records.stageMicrometers.values()) storeMicrometer(storing, micrometer);
  for (const method of records.methods.values()) {
    insertMethod(db, method);
    tell(storing, "method", method.id, method);
  }
  for (const calibration of records.calibrations.values()) {
    insertFrozen(db, calibration);
    const { result, ...typed } = calibration;
    const { factor = null, expandedUncertainty = null, pooled } = result ?? {};
    // Newest first in the file; on the bench the order of insertion is the order in time.
    const assessments = (records.assessments.get(calibration.id) ?? [])
      .map(({ calibrationId: _, ...kept }) => kept)
      .toReversed();
    for (const kept of assessments) insertAssessment(db, calibration.id, kept);
    const frozen = { ...typed, factor, expandedUncertainty, pooled };
    tell(
      storing,
      "calibration",
      calibration.id,
      assessments.length === 0 ? frozen : { ...frozen, assessments },
    );
  }
}

function storeChecks(storing: Storing, { checks }: DocumentRecords): void {
  const { db } = storing;
  for (const check of [...checks.values()].toReversed()) {
    insertCheck(db, check);
    if (check.withdrawn) insertWithdrawal(db, check.id, check.withdrawn);
    tell(storing, "calibration_check", check.id, check);
  }
}

function storeOverdueUses(storing: Storing, { overdueUses }: DocumentRecords): void {
  for (const { id, ...use } of overdueUses.values()) {
    insertOverdueUse(storing.db, { id, ...use });
    tell(storing, "overdue_use", id, use);
  }
}

function storeRows(storing: Storing, { rows, sheet }: DocumentSheet): void {
  const { db } = storing;
  for (const row of rows) {
    appendRow(db, sheet.id, row.id, row.label);
    describeRow(db, row.id, row);
    putElsewhere(db, row.id, row.elsewhere);
    for (const measurement of row.measurements) putMeasurement(db, row.id, measurement);
    if (row.struck) strikeRow(db, row, row.struck);
    const dimensions = row.measurements.map((one) => one.dimension);
    const { ordinal, label, note, stage, struck } = row;
    tell(storing, "specimen_row", row.id, {
      ...stateForTrail(row, dimensions),
      sheetId: sheet.id,
      ordinal,
      label,
      note,
      stage,
      struckAs: struck,
    });
  }
}

/** @returns what the trail is told of the results kept, by which verify finds them again */
function storeReplaced(
  { db }: Storing,
  { earlier }: DocumentSheet,
): DetailOf<"documents.readIn", "sheet">["superseded"] {
  if (earlier.results.length === 0) return null;
  const first = lastSupersededId(db) + 1;
  for (const { rowId, measurement, ...by } of earlier.results) archiveResult(db, rowId, measurement, by);
  const range = { first, last: lastSupersededId(db) };
  return { ...range, sha256: sliceSha256(db, range) };
}

function storeSheet(storing: Storing, document: DocumentSheet): void {
  const { db } = storing;
  const { sheet, amendments, signOffs } = document;
  insertSheet(db, sheet, ordinalOfNumber(sheet.number));
  if (sheet.lastConfirmed) setConfirmed(db, sheet.id, sheet.lastConfirmed);
  storeRows(storing, document);
  const superseded = storeReplaced(storing, document);
  insertReadInAmendments(db, sheet.id, amendments);
  // Newest first in the file; on the bench the order of insertion is the order in time.
  for (const signOff of signOffs.toReversed()) insertEndedSignOff(db, signOff);
  tell(storing, "sheet", sheet.id, {
    ...sheet,
    dataSha256: document.dataSha256,
    amendments: { count: amendments.length, sha256: readInAmendmentsSha256(db, sheet.id) },
    superseded,
    signOffs,
  });
}

/** Stores every record of a document under its own identifier and tells the trail of each; people are there already. */
export function storeDocument(storing: Storing, records: DocumentRecords): void {
  storeRegisters(storing, records);
  storeChecks(storing, records);
  storeOverdueUses(storing, records);
  for (const sheet of records.sheets) storeSheet(storing, sheet);
}
