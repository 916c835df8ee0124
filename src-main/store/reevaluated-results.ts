import { createHash } from "node:crypto";
import type { SizeRecord } from "#core/contract/records/sheet.ts";
import { all, each, one, type ReadableDb, run, type WritableDb } from "./connection.ts";
import { STANDS } from "./trace-repository.ts";

/** The act named in every superseded result of a re-evaluation. */
export const SLICE_ACT = "reevaluations.slice";

/** Which results of one calibration are meant, in the order of their keys. */
export type SliceScope = {
  readonly calibrationId: string;
  readonly notBefore: string;
  readonly before: string;
  /** JSON list of sheets; null: all. */
  readonly sheetIds: string | null;
};

/** One result to convert anew. */
export interface SliceRow {
  readonly rowId: string;
  readonly dimension: string;
  readonly entry: "two-edges" | "direct";
  readonly left: string | null;
  readonly right: string | null;
  readonly direct: string | null;
  readonly repeats: string;
  readonly divisions: string;
  readonly sheetId: string;
  readonly methodId: string;
}

const WITHIN = `FROM measurement m INDEXED BY measurement_by_calibration
  CROSS JOIN specimen_row r ON r.id = m.row_id CROSS JOIN sheet s ON s.id = r.sheet_id
  WHERE m.calibration_id = :calibrationId AND (m.row_id, m.dimension) > (:afterRow, :afterDimension) AND ${STANDS}
    AND m.entered_at >= :notBefore AND m.entered_at < :before
    AND (:sheetIds IS NULL OR r.sheet_id IN (SELECT value FROM json_each(:sheetIds)))`;

export const SLICE_ROWS = `SELECT m.row_id AS "rowId", m.dimension, m.entry, m.left_typed AS "left",
  m.right_typed AS "right", m.direct_typed AS direct, m.repeats_json AS repeats, m.divisions_text AS divisions,
  r.sheet_id AS "sheetId", s.method_id AS "methodId"
  ${WITHIN} ORDER BY m.row_id, m.dimension LIMIT :limit`;

export function sliceRows(
  db: ReadableDb,
  scope: SliceScope,
  after: { readonly rowId: string; readonly dimension: string },
  limit: number,
): SliceRow[] {
  return all(db, SLICE_ROWS, {
    ...scope,
    afterRow: after.rowId,
    afterDimension: after.dimension,
    limit,
  }) as unknown as SliceRow[];
}

/** The record of a measurement as JSON, of the same shape as when it is replaced one by one. */
const AS_JSON = `json_object('dimension', m.dimension, 'entry', m.entry, 'left', m.left_typed, 'right', m.right_typed,
  'direct', m.direct_typed, 'repeats', json(m.repeats_json), 'trainId', m.train_id, 'calibrationId', m.calibration_id,
  'divisions', m.divisions_text, 'size', json_object('value', m.size_um, 'standardUncertainty', m.size_standard_um,
    'degreesOfFreedom', m.size_degrees_of_freedom, 'coverageFactor', m.size_coverage_factor,
    'expandedUncertainty', m.size_expanded_um, 'shownValue', m.size_shown,
    'shownUncertainty', m.size_shown_uncertainty),
  'missing', m.missing, 'flags', json(m.flags_json), 'enteredAt', m.entered_at, 'enteredBy', m.entered_by)`;

const KEEP = `INSERT INTO superseded_measurement (row_id, dimension, calibration_id, size_um, measurement_json, at, by, act,
    reason)
  SELECT m.row_id, m.dimension, m.calibration_id, m.size_um, ${AS_JSON}, :at, :personId, '${SLICE_ACT}', :reason
  ${WITHIN} AND (m.row_id, m.dimension) <= (:lastRow, :lastDimension) ORDER BY m.row_id, m.dimension`;

/** Keeps the results between two keys as they are, in one statement. @returns the range of ids they got */
export function keepSlice(
  db: WritableDb,
  scope: SliceScope,
  after: { readonly rowId: string; readonly dimension: string },
  last: { readonly rowId: string; readonly dimension: string },
  by: { readonly at: string; readonly personId: string; readonly reason: string },
): { readonly first: number; readonly last: number } {
  const before = Number(one(db, "SELECT coalesce(max(id), 0) AS id FROM superseded_measurement")?.id);
  const kept = run(db, KEEP, {
    ...scope,
    ...by,
    afterRow: after.rowId,
    afterDimension: after.dimension,
    lastRow: last.rowId,
    lastDimension: last.dimension,
  });
  return { first: before + 1, last: before + kept };
}

/** Writes a new size in the place of one that has been kept; readings, flags and date stay. */
export function replaceSize(
  db: WritableDb,
  row: Pick<SliceRow, "rowId" | "dimension">,
  calibrationId: string,
  size: SizeRecord,
  bin: number | null,
): void {
  run(
    db,
    `UPDATE measurement SET calibration_id = ?, size_um = ?, size_standard_um = ?, size_degrees_of_freedom = ?,
       size_coverage_factor = ?, size_expanded_um = ?, size_shown = ?, size_shown_uncertainty = ?, size_bin = ?
     WHERE row_id = ? AND dimension = ?`,
    calibrationId,
    size.value,
    size.standardUncertainty,
    size.degreesOfFreedom,
    size.coverageFactor,
    size.expandedUncertainty,
    size.shownValue,
    size.shownUncertainty,
    bin,
    row.rowId,
    row.dimension,
  );
}

/** SHA-256 over the superseded results of a slice as they are kept: a JSON array of the columns for each, in order. */
export function sliceSha256(
  db: ReadableDb,
  range: { readonly first: number; readonly last: number },
): string {
  const hash = createHash("sha256");
  const rows = each(
    db,
    `SELECT row_id, dimension, calibration_id, size_um, measurement_json, at, by, act, reason
     FROM superseded_measurement WHERE id BETWEEN ? AND ? ORDER BY id`,
    range.first,
    range.last,
  );
  for (const row of rows) hash.update(`${JSON.stringify(Object.values(row))}\n`, "utf8");
  return hash.digest("hex");
}
