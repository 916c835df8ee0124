import type { DocumentSheet } from "#core/contract/records/sheet-document.ts";
import { UnfitDocument } from "../../exchange/read-document.ts";
import { ordinalOfNumber } from "../../store/repositories/sheet-repository.ts";
import type { DocumentRecords } from "./document-records.ts";

interface Known {
  has(id: string): boolean;
}

/** @throws UnfitDocument when a record is named that the file does not hold */
function requireNamed(field: string, id: string | null, known: Known): void {
  if (id !== null && !known.has(id)) throw new UnfitDocument(field, `names ${id}, which is not in the file`);
}

/** @throws UnfitDocument when two places of the file do not say the same */
function requireSame(field: string, found: unknown, expected: unknown): void {
  if (found !== expected) {
    throw new UnfitDocument(field, `is ${String(found)}, but the rest of the file says ${String(expected)}`);
  }
}

const idsOf = (list: readonly { readonly id: string }[]): Known => new Set(list.map((one) => one.id));

function checkRegisters({ microscopes, stageMicrometers, methods, people }: DocumentRecords): void {
  for (const { id, objectives, eyepieces } of microscopes.values()) {
    for (const part of [...objectives, ...eyepieces]) {
      requireSame(`microscope ${id}, part ${part.id}, microscopeId`, part.microscopeId, id);
    }
  }
  for (const { objectives } of microscopes.values()) {
    for (const one of objectives) {
      requireNamed(`objective ${one.id}, replaced.by`, one.replaced?.by ?? null, idsOf(objectives));
    }
  }
  for (const { id, certificates } of stageMicrometers.values()) {
    for (const one of certificates) {
      requireSame(`certificate ${one.number}, stageMicrometerId`, one.stageMicrometerId, id);
    }
  }
  for (const { id, definedBy } of methods.values())
    requireNamed(`method ${id}, definedBy`, definedBy, people);
}

function checkTrains({ trains, microscopes }: DocumentRecords): void {
  for (const train of trains.values()) {
    const where = `train ${train.id}`;
    requireNamed(`${where}, microscopeId`, train.microscopeId, microscopes);
    const microscope = microscopes.get(train.microscopeId);
    const { objectives = [], eyepieces = [], intermediateMagnifications = [] } = microscope ?? {};
    requireNamed(`${where}, objectiveId`, train.objectiveId, idsOf(objectives));
    requireNamed(`${where}, eyepieceId`, train.eyepieceId, idsOf(eyepieces));
    requireNamed(`${where}, reticleId`, train.reticleId, idsOf(eyepieces.map((one) => one.reticle)));
    requireNamed(
      `${where}, intermediateMagnification`,
      train.intermediateMagnification,
      new Set<string>(intermediateMagnifications),
    );
  }
}

function checkCalibrations({ calibrations, trains, stageMicrometers, people }: DocumentRecords): void {
  const inForce = new Set<string>();
  for (const one of calibrations.values()) {
    const where = `calibration ${one.id}`;
    requireNamed(`${where}, trainId`, one.trainId, trains);
    requireNamed(`${where}, stageMicrometerId`, one.stageMicrometerId, stageMicrometers);
    const certificates = stageMicrometers.get(one.stageMicrometerId)?.certificates ?? [];
    requireNamed(`${where}, certificateId`, one.certificateId, idsOf(certificates));
    for (const key of ["personId", "inForceBy", "endedBy"] as const)
      requireNamed(`${where}, ${key}`, one[key], people);
    if (one.state !== "in force") continue;
    if (inForce.has(one.trainId)) {
      throw new UnfitDocument(`${where}, state`, "is in force, as another calibration of its train");
    }
    inForce.add(one.trainId);
  }
}

function checkAssessments({ assessments, calibrations, people }: DocumentRecords): void {
  for (const [id, kept] of assessments) {
    const where = `assessments of calibration ${id}`;
    requireNamed(where, id, calibrations);
    for (const { earlierId, by } of kept) {
      requireNamed(`${where}, earlierId`, earlierId, calibrations);
      requireNamed(`${where}, by`, by, people);
    }
  }
}

function checkChecks({ checks, calibrations, stageMicrometers, people }: DocumentRecords): void {
  for (const one of checks.values()) {
    const where = `check ${one.id}`;
    requireNamed(`${where}, calibrationId`, one.calibrationId, calibrations);
    requireSame(`${where}, trainId`, one.trainId, calibrations.get(one.calibrationId)?.trainId);
    requireNamed(`${where}, stageMicrometerId`, one.stageMicrometerId, stageMicrometers);
    const certificates = stageMicrometers.get(one.stageMicrometerId)?.certificates ?? [];
    requireNamed(`${where}, certificateId`, one.certificateId, idsOf(certificates));
    requireNamed(`${where}, checkedBy`, one.checkedBy, people);
    requireNamed(`${where}, withdrawn.by`, one.withdrawn?.by ?? null, people);
  }
}

function checkOverdueUses({ overdueUses, calibrations, people, sheets }: DocumentRecords): void {
  const known = new Set([...calibrations.keys(), ...sheets.map(({ sheet }) => sheet.id)]);
  for (const one of overdueUses.values()) {
    const where = `overdue use ${one.id}`;
    requireNamed(`${where}, workId`, one.workId, known);
    requireNamed(`${where}, calibrationId`, one.calibrationId, calibrations);
    requireNamed(`${where}, by`, one.by, people);
  }
}

function checkHead(sheet: DocumentSheet, where: string, { people }: DocumentRecords): void {
  const { microscope, method, rows } = sheet;
  const head = sheet.sheet;
  if (ordinalOfNumber(head.number) === null) {
    throw new UnfitDocument(`${where}.sheet.number`, `is ${head.number}, not a number of a sheet`);
  }
  requireSame(`${where}.sheet.methodId`, head.methodId, method.id);
  requireSame(`${where}.sheet.microscopeId`, head.microscopeId, microscope.id);
  requireNamed(`${where}.sheet.objectiveId`, head.objectiveId, idsOf(microscope.objectives));
  requireNamed(`${where}.sheet.eyepieceId`, head.eyepieceId, idsOf(microscope.eyepieces));
  requireNamed(`${where}.sheet.openedBy`, head.openedBy, people);
  requireSame(`${where}.sheet.rowCount`, head.rowCount, rows.length);
  const struck = rows.filter((row) => row.struck !== null).length;
  requireSame(`${where}.sheet.struckCount`, head.struckCount, struck);
}

function checkRows(sheet: DocumentSheet, where: string, records: DocumentRecords): void {
  const dimensions = new Set(sheet.method.definition.dimensions.map((one) => one.key));
  sheet.rows.forEach((row, at) => {
    const here = `${where}.rows[${at}]`;
    requireSame(`${here}.ordinal`, row.ordinal, at + 1);
    requireSame(`${here}.sheetId`, row.sheetId, sheet.sheet.id);
    requireNamed(`${here}.struck.by`, row.struck?.by ?? null, records.people);
    for (const { dimension } of row.elsewhere?.sizes ?? [])
      requireNamed(`${here}.elsewhere.sizes`, dimension, dimensions);
    row.measurements.forEach((one, index) => {
      const there = `${here}.measurements[${index}]`;
      requireNamed(`${there}.dimension`, one.dimension, dimensions);
      requireNamed(`${there}.trainId`, one.trainId, records.trains);
      requireNamed(`${there}.calibrationId`, one.calibrationId, records.calibrations);
      requireNamed(`${there}.enteredBy`, one.enteredBy, records.people);
    });
  });
}

function checkHistory(sheet: DocumentSheet, where: string, { people, calibrations }: DocumentRecords): void {
  const rows = idsOf(sheet.rows);
  sheet.earlier.results.forEach((one, at) => {
    const here = `${where}.earlier.results[${at}]`;
    requireNamed(`${here}.rowId`, one.rowId, rows);
    requireNamed(`${here}.by`, one.by, people);
    requireNamed(`${here}.measurement.calibrationId`, one.measurement.calibrationId, calibrations);
  });
  sheet.pictures.forEach((one, at) => {
    const here = `${where}.pictures[${at}]`;
    requireSame(`${here}.subject.kind`, one.subject.kind, "specimen row");
    requireNamed(`${here}.subject.id`, one.subject.id, rows);
    requireNamed(`${here}.addedBy`, one.addedBy, people);
  });
  sheet.signOffs.forEach((one, at) => {
    const here = `${where}.signOffs[${at}]`;
    requireSame(`${here}.sheetId`, one.sheetId, sheet.sheet.id);
    requireNamed(`${here}.by`, one.by, people);
    requireNamed(`${here}.ended.by`, one.ended?.by ?? null, people);
    requireNamed(`${here}.pinReset.voucher`, one.pinReset?.voucher ?? null, people);
  });
}

/**
 * Lines of the trail are found by the identifier of what they tell of, so no two records may have one between them.
 * @throws UnfitDocument
 */
function requireOwnIds(records: DocumentRecords): void {
  const { people, microscopes, methods, stageMicrometers, trains, calibrations, checks, sheets } = records;
  const { overdueUses } = records;
  const parts = [...microscopes.values()].flatMap((one) => [...one.objectives, ...one.eyepieces]);
  const certificates = [...stageMicrometers.values()].flatMap((one) => one.certificates);
  const known = new Set<string>();
  const note = (field: string, id: string): void => {
    if (known.has(id)) throw new UnfitDocument(field, `has the identifier ${id} of another record`);
    known.add(id);
  };
  const shared = [people, microscopes, methods, stageMicrometers, trains, calibrations, checks, overdueUses];
  for (const kept of shared) {
    for (const id of kept.keys()) note(`record ${id}`, id);
  }
  for (const { id } of [...parts, ...certificates]) note(`record ${id}`, id);
  sheets.forEach(({ sheet, rows }, at) => {
    note(`sheets[${at}].sheet.id`, sheet.id);
    rows.forEach(({ id }, row) => {
      note(`sheets[${at}].rows[${row}].id`, id);
    });
  });
}

/** Every record that is named is there, and what is said twice is said alike. @throws UnfitDocument naming the field */
export function checkReferences(records: DocumentRecords): void {
  checkRegisters(records);
  checkTrains(records);
  checkCalibrations(records);
  checkAssessments(records);
  checkChecks(records);
  checkOverdueUses(records);
  requireOwnIds(records);
  const seen = new Set<string>();
  records.sheets.forEach((sheet, at) => {
    const where = `sheets[${at}]`;
    checkHead(sheet, where, records);
    for (const name of [sheet.sheet.id, sheet.sheet.number]) {
      if (seen.has(name)) throw new UnfitDocument(`${where}.sheet`, `is there twice: ${name}`);
      seen.add(name);
    }
    checkRows(sheet, where, records);
    checkHistory(sheet, where, records);
  });
}
