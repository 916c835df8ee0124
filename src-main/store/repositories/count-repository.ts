import { factorKey } from "#core/contract/records/cell-volume.ts";
import { Count, CountHead, CountOfSeries } from "#core/contract/records/count.ts";
import type { CountResults } from "#core/contract/records/count-results.ts";
import type { CountSearch } from "#core/contract/records/list-search.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { firstText, insert, sql } from "../sql.ts";
import { countsWhere, orderOf } from "./list-search.ts";

const HEAD = sql`id, ordinal, sample, customer, note, count_method_id AS "countMethodId",
  microscope_id AS "microscopeId",
  eyepiece_id AS "eyepieceId", intermediate_magnification AS "intermediateMagnification",
  objective_id AS "objectiveId", train_id AS "trainId", calibration_id AS "calibrationId", batch, state,
  current_field AS "currentField", last_sequence AS "lastSequence", seconds_before AS "secondsBefore",
  running_since AS "runningSince", opened_at AS "openedAt", opened_by AS "openedBy", closed_at AS "closedAt",
  closed_by AS "closedBy", last_field_counted AS "lastFieldCounted", linked_sheet_id AS "linkedSheetId",
  category_list_id AS "categoryListId"`;
const FULL = sql`${HEAD}, categories_json AS categories, inputs_json AS inputs,
  train_cautions_json AS "trainCautions",
  results_json AS results, cell_volumes_json AS "cellVolumes", control_json AS control`;

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

const headOf = (row: Row): CountHead => CountHead.parse(plainOf(row));

function countOf(row: Row): Count {
  const { categories, inputs, trainCautions, results, cellVolumes, control, ...head } = row;
  return Count.parse({
    ...plainOf(head),
    categories: JSON.parse(String(categories)),
    inputs: JSON.parse(String(inputs)),
    trainCautions: JSON.parse(String(trainCautions)),
    results: results === null ? null : JSON.parse(String(results)),
    ...(cellVolumes === null ? {} : { cellVolumes: JSON.parse(String(cellVolumes)) }),
    ...(control === null ? {} : { control: JSON.parse(String(control)) }),
  });
}

/** One page of the counts that a search finds, and how many there are on all pages. */
export function searchCounts(db: ReadableDb, search: CountSearch): { total: number; counts: CountHead[] } {
  const found = sql`FROM tally WHERE ${countsWhere(search)}`;
  const order = orderOf(search, "current_field");
  const page = sql`SELECT ${HEAD} ${found} ORDER BY ${order} LIMIT ${search.count} OFFSET ${search.skip}`;
  return { total: sql`SELECT count(*) ${found}`.number(db), counts: page.all(db, headOf) };
}

/** Newest first. */
export function listCounts(db: ReadableDb): CountHead[] {
  return sql`SELECT ${HEAD} FROM tally ORDER BY ordinal DESC`.all(db, headOf);
}

export function countIds(db: ReadableDb): string[] {
  return sql`SELECT id FROM tally ORDER BY ordinal`.all(db, firstText);
}

export function findCount(db: ReadableDb, id: string): Count | null {
  return sql`SELECT ${FULL} FROM tally WHERE id = ${id}`.one(db, countOf);
}

/** Counts with a train that are not closed, oldest first. */
export function openCountsOfTrain(db: ReadableDb, trainId: string): Count[] {
  return sql`SELECT ${FULL} FROM tally WHERE train_id = ${trainId} AND closed_at IS NULL
    ORDER BY ordinal`.all(db, countOf);
}

/** Counts whose area was frozen with a calibration, oldest first. */
export function countsByCalibration(db: ReadableDb, calibrationId: string): Count[] {
  return sql`SELECT ${FULL} FROM tally WHERE calibration_id = ${calibrationId}
    ORDER BY ordinal`.all(db, countOf);
}

/** Counts with a cell volume that was measured with a calibration, by number. */
export function countsByCellVolume(db: ReadableDb, calibrationId: string): Count[] {
  return sql`SELECT ${FULL} FROM tally WHERE EXISTS (
    SELECT 1 FROM json_each(cell_volumes_json) volume, json_each(volume.value, '$.of.components') doubt
    WHERE doubt.value ->> 'key' = ${factorKey(calibrationId)}) ORDER BY ordinal`.all(db, countOf);
}

/** The last closed control samples of a kind by a family of methods, oldest first. */
export function closedControls(db: ReadableDb, familyId: string, kind: string, most: number): Count[] {
  return sql`SELECT ${FULL} FROM tally WHERE state = 'closed' AND control_json ->> 'kind' = ${kind}
    AND count_method_id IN (SELECT id FROM count_method WHERE family_id = ${familyId})
    ORDER BY closed_at DESC, ordinal DESC LIMIT ${most}`
    .all(db, countOf)
    .reverse();
}

/** The last closed counts of a sample by a family of methods, oldest first. */
export function closedCountsOf(
  db: ReadableDb,
  sample: string,
  familyId: string,
  most: number,
): CountOfSeries[] {
  return sql`SELECT t.id, t.ordinal, t.closed_at AS "closedAt",
    json_extract(t.results_json, '$.total') AS total,
      json_extract(t.results_json, '$.fields') AS fields,
      json_extract(t.results_json, '$.poissonSuppressed') AS "isClustered"
    FROM tally t JOIN count_method m ON m.id = t.count_method_id
    WHERE t.state = 'closed'
    AND t.sample = ${sample} AND m.family_id = ${familyId} ORDER BY t.closed_at DESC, t.ordinal DESC
    LIMIT ${most}`
    .all(db)
    .reverse()
    .map(({ ordinal, isClustered, ...rest }) =>
      CountOfSeries.parse({ ...rest, number: countNumber(Number(ordinal)), isClustered: isClustered === 1 }),
    );
}

/** Inserts under the next running number. */
export function insertCount(db: WritableDb, count: Omit<Count, "number">, firstHash: string): void {
  const { train } = count;
  insert(db, "tally", {
    id: count.id,
    ordinal: sql`(SELECT coalesce(max(ordinal), 0) + 1 FROM tally)`,
    sample: count.sample,
    customer: count.customer ?? null,
    note: count.note,
    count_method_id: count.countMethodId,
    microscope_id: train?.microscopeId ?? null,
    eyepiece_id: train?.eyepieceId ?? null,
    intermediate_magnification: train?.intermediateMagnification ?? null,
    objective_id: train?.objectiveId ?? null,
    train_id: count.trainId,
    calibration_id: count.calibrationId,
    categories_json: JSON.stringify(count.categories),
    inputs_json: JSON.stringify(count.inputs),
    train_cautions_json: JSON.stringify(count.trainCautions),
    batch: count.batch,
    state: count.state,
    current_field: count.currentField,
    last_sequence: count.lastSequence,
    last_hash: firstHash,
    seconds_before: count.secondsBefore,
    running_since: count.runningSince,
    opened_at: count.openedAt,
    opened_by: count.openedBy,
    last_field_counted: 0,
    linked_sheet_id: count.linkedSheetId,
    category_list_id: count.categoryListId ?? null,
  });
}

/** Writes what may change about a count besides its events. */
export function updateCount(db: WritableDb, count: Count): void {
  sql`UPDATE tally SET calibration_id = ${count.calibrationId},
    categories_json = ${JSON.stringify(count.categories)},
    inputs_json = ${JSON.stringify(count.inputs)},
    train_cautions_json = ${JSON.stringify(count.trainCautions)}, state = ${count.state},
    seconds_before = ${count.secondsBefore},
      running_since = ${count.runningSince}, closed_at = ${count.closedAt}, closed_by = ${count.closedBy},
      last_field_counted = ${count.lastFieldCounted ? 1 : 0}, linked_sheet_id = ${count.linkedSheetId},
      results_json = ${storedResults(count.results)},
      cell_volumes_json = ${count.cellVolumes ? JSON.stringify(count.cellVolumes) : null},
      control_json = ${count.control ? JSON.stringify(count.control) : null}
    WHERE id = ${count.id}`.run(db);
}

function storedResults(results: CountResults | null): string | null {
  return results === null ? null : JSON.stringify(results);
}
