import { Tally, TallyHead } from "#core/contract/records/tally.ts";
import type { TallyResults } from "#core/contract/records/tally-results.ts";
import { all, one, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";

const HEAD = `id, ordinal, sample, customer, note, count_method_id AS "countMethodId", microscope_id AS "microscopeId",
  eyepiece_id AS "eyepieceId", intermediate_magnification AS "intermediateMagnification",
  objective_id AS "objectiveId", train_id AS "trainId", calibration_id AS "calibrationId", batch, state,
  current_field AS "currentField", last_sequence AS "lastSequence", seconds_before AS "secondsBefore",
  running_since AS "runningSince", opened_at AS "openedAt", opened_by AS "openedBy", closed_at AS "closedAt",
  closed_by AS "closedBy", last_field_counted AS "lastFieldCounted", linked_sheet_id AS "linkedSheetId",
  category_list_id AS "categoryListId"`;
const FULL = `${HEAD}, categories_json AS categories, inputs_json AS inputs, train_cautions_json AS "trainCautions",
  results_json AS results`;

/** `T-0001`, by the running number of the bench. */
export function tallyNumber(ordinal: number): string {
  return `T-${String(ordinal).padStart(4, "0")}`;
}

function plainOf(row: Row): Record<string, unknown> {
  const {
    ordinal,
    customer,
    categoryListId,
    microscopeId,
    eyepieceId,
    intermediateMagnification,
    objectiveId,
    ...rest
  } = row;
  const train =
    rest.trainId === null ? null : { microscopeId, eyepieceId, intermediateMagnification, objectiveId };
  return {
    ...rest,
    ...(customer === null ? {} : { customer }),
    ...(categoryListId === null ? {} : { categoryListId }),
    number: tallyNumber(Number(ordinal)),
    train,
    lastFieldCounted: rest.lastFieldCounted === 1,
  };
}

function tallyOf(row: Row): Tally {
  const { categories, inputs, trainCautions, results, ...head } = row;
  return Tally.parse({
    ...plainOf(head),
    categories: JSON.parse(String(categories)),
    inputs: JSON.parse(String(inputs)),
    trainCautions: JSON.parse(String(trainCautions)),
    results: results === null ? null : JSON.parse(String(results)),
  });
}

/** Newest first. */
export function listTallies(db: ReadableDb): TallyHead[] {
  return all(db, `SELECT ${HEAD} FROM tally ORDER BY ordinal DESC`).map((row) =>
    TallyHead.parse(plainOf(row)),
  );
}

export function tallyIds(db: ReadableDb): string[] {
  return all(db, "SELECT id FROM tally ORDER BY ordinal").map((row) => String(row.id));
}

export function findTally(db: ReadableDb, id: string): Tally | null {
  const row = one(db, `SELECT ${FULL} FROM tally WHERE id = ?`, id);
  return row ? tallyOf(row) : null;
}

/** Counts with a train that are not closed, oldest first. */
export function openTalliesOfTrain(db: ReadableDb, trainId: string): Tally[] {
  return all(
    db,
    `SELECT ${FULL} FROM tally WHERE train_id = ? AND closed_at IS NULL ORDER BY ordinal`,
    trainId,
  ).map(tallyOf);
}

/** Counts whose area was frozen with a calibration, oldest first. */
export function talliesByCalibration(db: ReadableDb, calibrationId: string): Tally[] {
  return all(db, `SELECT ${FULL} FROM tally WHERE calibration_id = ? ORDER BY ordinal`, calibrationId).map(
    tallyOf,
  );
}

/** Inserts under the next running number. */
export function insertTally(db: WritableDb, tally: Omit<Tally, "number">, firstHash: string): void {
  const { train } = tally;
  run(
    db,
    `INSERT INTO tally (id, ordinal, sample, customer, note, count_method_id, microscope_id, eyepiece_id,
       intermediate_magnification, objective_id, train_id, calibration_id, categories_json, inputs_json,
       train_cautions_json, batch, state,
       current_field, last_sequence, last_hash, seconds_before, running_since, opened_at, opened_by,
       last_field_counted, linked_sheet_id, category_list_id)
     VALUES (?, (SELECT coalesce(max(ordinal), 0) + 1 FROM tally), ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, 0, ?, ?)`,
    tally.id,
    tally.sample,
    tally.customer ?? null,
    tally.note,
    tally.countMethodId,
    train?.microscopeId ?? null,
    train?.eyepieceId ?? null,
    train?.intermediateMagnification ?? null,
    train?.objectiveId ?? null,
    tally.trainId,
    tally.calibrationId,
    JSON.stringify(tally.categories),
    JSON.stringify(tally.inputs),
    JSON.stringify(tally.trainCautions),
    tally.batch,
    tally.state,
    tally.currentField,
    tally.lastSequence,
    firstHash,
    tally.secondsBefore,
    tally.runningSince,
    tally.openedAt,
    tally.openedBy,
    tally.linkedSheetId,
    tally.categoryListId ?? null,
  );
}

/** Writes what may change about a tally besides its events. */
export function updateTally(db: WritableDb, tally: Tally): void {
  run(
    db,
    `UPDATE tally SET calibration_id = ?, categories_json = ?, inputs_json = ?, train_cautions_json = ?, state = ?, seconds_before = ?,
       running_since = ?, closed_at = ?, closed_by = ?, last_field_counted = ?, linked_sheet_id = ?, results_json = ?
     WHERE id = ?`,
    tally.calibrationId,
    JSON.stringify(tally.categories),
    JSON.stringify(tally.inputs),
    JSON.stringify(tally.trainCautions),
    tally.state,
    tally.secondsBefore,
    tally.runningSince,
    tally.closedAt,
    tally.closedBy,
    tally.lastFieldCounted ? 1 : 0,
    tally.linkedSheetId,
    storedResults(tally.results),
    tally.id,
  );
}

function storedResults(results: TallyResults | null): string | null {
  return results === null ? null : JSON.stringify(results);
}
