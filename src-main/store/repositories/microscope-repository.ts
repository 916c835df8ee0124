import {
  Eyepiece,
  Microscope,
  Objective,
  type ObjectiveReplaced,
} from "#core/contract/records/microscope.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { nameKey } from "../name-key.ts";
import { insert, sql } from "../sql.ts";

const COLUMNS = sql`id, name, maker, model, serial, head_compensated AS "headCompensated",
  registered_at AS "registeredAt"`;

function objectivesOf(db: ReadableDb, microscopeId: string): Objective[] {
  return sql`SELECT id, microscope_id AS "microscopeId", position, magnification,
      numerical_aperture AS "numericalAperture", immersion, serial, replaced_on AS "on", replaced_by AS "by"
    FROM objective WHERE microscope_id = ${microscopeId}
    ORDER BY position, replaced_on IS NULL, replaced_on, rowid`.all(db, ({ on, by, ...row }) =>
    Objective.parse(on === null ? row : { ...row, replaced: { on, by } }),
  );
}

function eyepiecesOf(db: ReadableDb, microscopeId: string): Eyepiece[] {
  return sql`SELECT e.id, e.microscope_id AS "microscopeId", e.name, e.magnification,
    e.field_number AS "fieldNumber",
      e.serial, r.id AS "reticleId", r.engraving, r.scale_length_mm AS "scaleLengthMm", r.divisions
    FROM eyepiece e JOIN reticle r ON r.id = e.reticle_id
    WHERE e.microscope_id = ${microscopeId} ORDER BY e.ordinal`
    .all(db)
    .map(({ reticleId, engraving, scaleLengthMm, divisions, ...eyepiece }) =>
      Eyepiece.parse({ ...eyepiece, reticle: { id: reticleId, engraving, scaleLengthMm, divisions } }),
    );
}

function microscopeOf(db: ReadableDb, row: Row): Microscope {
  const id = String(row.id);
  const steps = sql`SELECT magnification FROM intermediate_magnification
    WHERE microscope_id = ${id} ORDER BY ordinal`.all(db);
  return Microscope.parse({
    ...row,
    headCompensated: row.headCompensated === 1,
    intermediateMagnifications: steps.map((step) => step.magnification),
    objectives: objectivesOf(db, id),
    eyepieces: eyepiecesOf(db, id),
  });
}

export function listMicroscopes(db: ReadableDb): Microscope[] {
  return sql`SELECT ${COLUMNS} FROM microscope ORDER BY registered_at, rowid`
    .all(db)
    .map((row) => microscopeOf(db, row));
}

export function findMicroscope(db: ReadableDb, id: string): Microscope | null {
  return sql`SELECT ${COLUMNS} FROM microscope WHERE id = ${id}`.one(db, (row) => microscopeOf(db, row));
}

export function microscopeNameTaken(db: ReadableDb, name: string): boolean {
  return sql`SELECT 1 FROM microscope WHERE name_key = ${nameKey(name)}`.exists(db);
}

export function insertObjective(db: WritableDb, objective: Objective): void {
  insert(db, "objective", {
    id: objective.id,
    microscope_id: objective.microscopeId,
    position: objective.position,
    magnification: objective.magnification,
    numerical_aperture: objective.numericalAperture,
    immersion: objective.immersion,
    serial: objective.serial,
    replaced_on: objective.replaced?.on ?? null,
    replaced_by: objective.replaced?.by ?? null,
  });
}

/** Frees the position of an objective for the one that takes its place. */
export function setReplaced(db: WritableDb, objectiveId: string, { on, by }: ObjectiveReplaced): void {
  sql`UPDATE objective SET replaced_on = ${on}, replaced_by = ${by} WHERE id = ${objectiveId}`.run(db);
}

/** The objective that left the turret and the one in its place; null for one that is there, or was on that day. */
export function replacementOfObjective(
  db: ReadableDb,
  objectiveId: string,
  day: string,
): { readonly left: Objective; readonly next: Objective | null } | null {
  const row = sql`SELECT microscope_id FROM objective
    WHERE id = ${objectiveId} AND replaced_on <= ${day}`.one(db);
  if (!row) return null;
  const every = objectivesOf(db, String(row.microscope_id));
  const left = every.find(({ id }) => id === objectiveId);
  return left ? { left, next: every.find(({ id }) => id === left.replaced?.by) ?? null } : null;
}

/** Inserts the eyepiece with its reticle, after those the microscope has. */
export function insertEyepiece(db: WritableDb, eyepiece: Eyepiece): void {
  const { reticle } = eyepiece;
  insert(db, "reticle", {
    id: reticle.id,
    engraving: reticle.engraving,
    scale_length_mm: reticle.scaleLengthMm,
    divisions: reticle.divisions,
  });
  insert(db, "eyepiece", {
    id: eyepiece.id,
    microscope_id: eyepiece.microscopeId,
    ordinal: sql`(SELECT count(*) + 1 FROM eyepiece WHERE microscope_id = ${eyepiece.microscopeId})`,
    name: eyepiece.name,
    magnification: eyepiece.magnification,
    field_number: eyepiece.fieldNumber,
    serial: eyepiece.serial,
    reticle_id: reticle.id,
  });
}

/** Inserts the microscope with its objectives and eyepieces; its trains are inserted by `insertTrain`. */
export function insertMicroscope(db: WritableDb, microscope: Microscope): void {
  insert(db, "microscope", {
    id: microscope.id,
    name: microscope.name,
    name_key: nameKey(microscope.name),
    maker: microscope.maker,
    model: microscope.model,
    serial: microscope.serial,
    head_compensated: microscope.headCompensated ? 1 : 0,
    registered_at: microscope.registeredAt,
  });
  microscope.intermediateMagnifications.forEach((magnification, index) => {
    insert(db, "intermediate_magnification", {
      microscope_id: microscope.id,
      ordinal: index + 1,
      magnification,
    });
  });
  for (const objective of microscope.objectives) insertObjective(db, objective);
  for (const eyepiece of microscope.eyepieces) insertEyepiece(db, eyepiece);
}
