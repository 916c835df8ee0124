import { factorKey } from "#core/contract/records/cell-volume.ts";
import { Count, CountHead, CountOfSeries } from "#core/contract/records/count.ts";
import type { CountResults } from "#core/contract/records/count-results.ts";
import type { CountSearch } from "#core/contract/records/list-search.ts";
import { all, one, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";
import { countsWhere, orderOf } from "./list-search.ts";

const HEAD = `id, ordinal, sample, customer, note, count_method_id AS "countMethodId", microscope_id AS "microscopeId",
  eyepiece_id AS "eyepieceId", intermediate_magnification AS "intermediateMagnification",
  objective_id AS "objectiveId", train_id AS "trainId", calibration_id AS "calibrationId", batch, state,
  current_field AS "currentField", last_sequence AS "lastSequence", seconds_before AS "secondsBefore",
  running_since AS "runningSince", opened_at AS "openedAt", opened_by AS "openedBy", closed_at AS "closedAt",
  closed_by AS "closedBy", last_field_counted AS "lastFieldCounted", linked_sheet_id AS "linkedSheetId",
  category_list_id AS "categoryListId"`;
const FULL = `${HEAD}, categories_json AS categories, inputs_json AS inputs, train_cautions_json AS "trainCautions",
  results_json AS results, cell_volumes_json AS "cellVolumes"`;

/** `T-0001`, by the running number of the bench. */
export function countNumber(ordinal: number): string {
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
    number: countNumber(Number(ordinal)),
    train,
    lastFieldCounted: rest.lastFieldCounted === 1,
  };
}

function countOf(row: Row): Count {
  const { categories, inputs, trainCautions, results, cellVolumes, ...head } = row;
  return Count.parse({
    ...plainOf(head),
    categories: JSON.parse(String(categories)),
    inputs: JSON.parse(String(inputs)),
    trainCautions: JSON.parse(String(trainCautions)),
    results: results === null ? null : JSON.parse(String(results)),
    ...(cellVolumes === null ? {} : { cellVolumes: JSON.parse(String(cellVolumes)) }),
  });
}

/** One page of the counts that a search finds, and how many there are on all pages. */
export function searchCounts(db: ReadableDb, search: CountSearch): { total: number; counts: CountHead[] } {
  const { sql, bound } = countsWhere(search);
  const total = one(db, `SELECT count(*) AS n FROM tally WHERE ${sql}`, ...bound);
  const page = `SELECT ${HEAD} FROM tally WHERE ${sql} ORDER BY ${orderOf(search, "current_field")} LIMIT ? OFFSET ?`;
  const rows = all(db, page, ...bound, search.count, search.skip);
  return { total: Number(total?.n), counts: rows.map((row) => CountHead.parse(plainOf(row))) };
}

/** Newest first. */
export function listCounts(db: ReadableDb): CountHead[] {
  return all(db, `SELECT ${HEAD} FROM tally ORDER BY ordinal DESC`).map((row) =>
    CountHead.parse(plainOf(row)),
  );
}

export function countIds(db: ReadableDb): string[] {
  return all(db, "SELECT id FROM tally ORDER BY ordinal").map((row) => String(row.id));
}

export function findCount(db: ReadableDb, id: string): Count | null {
  const row = one(db, `SELECT ${FULL} FROM tally WHERE id = ?`, id);
  return row ? countOf(row) : null;
}

/** Counts with a train that are not closed, oldest first. */
export function openCountsOfTrain(db: ReadableDb, trainId: string): Count[] {
  return all(
    db,
    `SELECT ${FULL} FROM tally WHERE train_id = ? AND closed_at IS NULL ORDER BY ordinal`,
    trainId,
  ).map(countOf);
}

/** Counts whose area was frozen with a calibration, oldest first. */
export function countsByCalibration(db: ReadableDb, calibrationId: string): Count[] {
  return all(db, `SELECT ${FULL} FROM tally WHERE calibration_id = ? ORDER BY ordinal`, calibrationId).map(
    countOf,
  );
}

/** Counts with a cell volume that was measured with a calibration, by number. */
export function countsByCellVolume(db: ReadableDb, calibrationId: string): Count[] {
  return all(
    db,
    `SELECT ${FULL} FROM tally WHERE EXISTS (
       SELECT 1 FROM json_each(cell_volumes_json) volume, json_each(volume.value, '$.of.components') doubt
       WHERE doubt.value ->> 'key' = ?) ORDER BY ordinal`,
    factorKey(calibrationId),
  ).map(countOf);
}

/** The last closed counts of a sample by a family of methods, oldest first. */
export function closedCountsOf(
  db: ReadableDb,
  sample: string,
  familyId: string,
  most: number,
): CountOfSeries[] {
  return all(
    db,
    `SELECT t.id, t.ordinal, t.closed_at AS "closedAt", json_extract(t.results_json, '$.total') AS total,
       json_extract(t.results_json, '$.fields') AS fields,
       json_extract(t.results_json, '$.poissonSuppressed') AS "isClustered"
     FROM tally t JOIN count_method m ON m.id = t.count_method_id
     WHERE t.state = 'closed' AND t.sample = ? AND m.family_id = ? ORDER BY t.closed_at DESC, t.ordinal DESC LIMIT ?`,
    sample,
    familyId,
    most,
  )
    .reverse()
    .map(({ ordinal, isClustered, ...rest }) =>
      CountOfSeries.parse({ ...rest, number: countNumber(Number(ordinal)), isClustered: isClustered === 1 }),
    );
}

/** Inserts under the next running number. */
export function insertCount(db: WritableDb, count: Omit<Count, "number">, firstHash: string): void {
  const { train } = count;
  run(
    db,
    `INSERT INTO tally (id, ordinal, sample, customer, note, count_method_id, microscope_id, eyepiece_id,
       intermediate_magnification, objective_id, train_id, calibration_id, categories_json, inputs_json,
       train_cautions_json, batch, state,
       current_field, last_sequence, last_hash, seconds_before, running_since, opened_at, opened_by,
       last_field_counted, linked_sheet_id, category_list_id)
     VALUES (?, (SELECT coalesce(max(ordinal), 0) + 1 FROM tally), ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, 0, ?, ?)`,
    count.id,
    count.sample,
    count.customer ?? null,
    count.note,
    count.countMethodId,
    train?.microscopeId ?? null,
    train?.eyepieceId ?? null,
    train?.intermediateMagnification ?? null,
    train?.objectiveId ?? null,
    count.trainId,
    count.calibrationId,
    JSON.stringify(count.categories),
    JSON.stringify(count.inputs),
    JSON.stringify(count.trainCautions),
    count.batch,
    count.state,
    count.currentField,
    count.lastSequence,
    firstHash,
    count.secondsBefore,
    count.runningSince,
    count.openedAt,
    count.openedBy,
    count.linkedSheetId,
    count.categoryListId ?? null,
  );
}

/** Writes what may change about a count besides its events. */
export function updateCount(db: WritableDb, count: Count): void {
  run(
    db,
    `UPDATE tally SET calibration_id = ?, categories_json = ?, inputs_json = ?, train_cautions_json = ?, state = ?, seconds_before = ?,
       running_since = ?, closed_at = ?, closed_by = ?, last_field_counted = ?, linked_sheet_id = ?, results_json = ?,
       cell_volumes_json = ?
     WHERE id = ?`,
    count.calibrationId,
    JSON.stringify(count.categories),
    JSON.stringify(count.inputs),
    JSON.stringify(count.trainCautions),
    count.state,
    count.secondsBefore,
    count.runningSince,
    count.closedAt,
    count.closedBy,
    count.lastFieldCounted ? 1 : 0,
    count.linkedSheetId,
    storedResults(count.results),
    count.cellVolumes ? JSON.stringify(count.cellVolumes) : null,
    count.id,
  );
}

function storedResults(results: CountResults | null): string | null {
  return results === null ? null : JSON.stringify(results);
}
