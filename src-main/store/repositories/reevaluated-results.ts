import { createHash } from "node:crypto";
import type { SizeRecord } from "#core/contract/records/sheet.ts";
import { columns } from "../columns.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { type Query, sql } from "../sql.ts";
import { calibrationKey, ENTRY, keyOfCalibration, keyOfRow, MEASURED_WITH } from "./measurement-keys.ts";
import { IS_CURRENT } from "./trace-repository.ts";

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
export type SliceRow = ReturnType<typeof sliceRow>;
const sliceRow = columns({
  rowId: "text",
  dimension: "text",
  entry: ["two-edges", "direct"],
  left: "text?",
  right: "text?",
  direct: "text?",
  repeats: "text",
  divisions: "text",
  sheetId: "text",
  methodId: "text",
});

/** A place in the order of the keys: what stands before the first has no row. */
interface ResultKey {
  readonly rowId: string;
  readonly dimension: string;
}

const within = ({ calibrationId, notBefore, before, sheetIds }: SliceScope, after: ResultKey): Query =>
  sql`FROM measurement m INDEXED BY measurement_by_calibration
    CROSS JOIN specimen_row r ON r.key = m.row_key CROSS JOIN sheet s ON s.id = r.sheet_id ${MEASURED_WITH}
    WHERE m.calibration = ${keyOfCalibration(calibrationId)} AND ${IS_CURRENT}
      AND (m.row_key, m.dimension) > (coalesce(${keyOfRow(after.rowId)}, 0), ${after.dimension})
      AND m.entered_at >= ${notBefore} AND m.entered_at < ${before}
      AND (${sheetIds} IS NULL OR r.sheet_id IN (SELECT value FROM json_each(${sheetIds})))`;

const sliceOf = (scope: SliceScope, after: ResultKey, limit: number): Query =>
  sql`SELECT r.id AS "rowId", m.dimension, ${ENTRY} AS entry, m.left_typed AS "left",
    m.right_typed AS "right", m.direct_typed AS direct, m.repeats_json AS repeats,
    m.divisions_text AS divisions,
    r.sheet_id AS "sheetId", s.method_id AS "methodId"
    ${within(scope, after)} ORDER BY m.row_key, m.dimension LIMIT ${limit}`;

export function sliceRows(db: ReadableDb, scope: SliceScope, after: ResultKey, limit: number): SliceRow[] {
  return sliceOf(scope, after, limit).all(db, sliceRow);
}

/** The record of a measurement as JSON, of the same shape as when it is replaced one by one. */
const AS_JSON = sql`json_object('dimension', m.dimension, 'entry',
  ${ENTRY}, 'left', m.left_typed, 'right', m.right_typed,
  'direct', m.direct_typed, 'repeats', json(m.repeats_json), 'trainId', ms.train_id,
  'calibrationId', mc.calibration_id,
  'divisions', m.divisions_text, 'size',
  json_object('value', m.size_um, 'standardUncertainty', m.size_standard_um,
    'degreesOfFreedom', m.size_degrees_of_freedom, 'coverageFactor', m.size_coverage_factor,
    'expandedUncertainty', m.size_expanded_um, 'shownValue', m.size_shown,
    'shownUncertainty', m.size_shown_uncertainty),
  'missing', m.missing, 'flags', json(m.flags_json), 'enteredAt', m.entered_at, 'enteredBy', ms.entered_by)`;

/** Keeps the results between two keys as they are, in one statement. @returns the range of ids they got */
export function keepSlice(
  db: WritableDb,
  scope: SliceScope,
  after: ResultKey,
  last: ResultKey,
  by: { readonly at: string; readonly personId: string; readonly reason: string },
): { readonly first: number; readonly last: number } {
  const before = sql`SELECT coalesce(max(id), 0) AS id FROM superseded_measurement`.number(db);
  const kept = sql`INSERT INTO superseded_measurement
      (row_id, dimension, calibration_id, size_um, measurement_json, at, by, act, reason)
    SELECT r.id, m.dimension, mc.calibration_id, m.size_um,
    ${AS_JSON}, ${by.at}, ${by.personId}, ${SLICE_ACT}, ${by.reason}
    ${within(scope, after)} AND (m.row_key, m.dimension) <= (${keyOfRow(last.rowId)}, ${last.dimension})
    ORDER BY m.row_key, m.dimension`.run(db);
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
  sql`UPDATE measurement SET calibration = ${calibrationKey(db, calibrationId)}, size_um = ${size.value},
    size_standard_um = ${size.standardUncertainty}, size_degrees_of_freedom = ${size.degreesOfFreedom},
      size_coverage_factor = ${size.coverageFactor}, size_expanded_um = ${size.expandedUncertainty},
      size_shown = ${size.shownValue}, size_shown_uncertainty = ${size.shownUncertainty}, size_bin = ${bin}
    WHERE row_key = ${keyOfRow(row.rowId)} AND dimension = ${row.dimension}`.run(db);
}

/** One result of a sheet that a re-evaluation converted: what it was and what it was then. */
export type ReevaluatedResult = ReturnType<typeof resultOf>;
const resultOf = columns({
  id: "number",
  /** Of the line of the trail that tells of its slice. */
  sequence: "number",
  hash: "text",
  at: "text",
  by: "text",
  reason: "text?",
  rowId: "text",
  ordinal: "number",
  dimension: "text",
  fromCalibrationId: "text",
  toCalibrationId: "text",
  /** As shown, `295.6 ± 4.2`; the later one null when the reading was corrected since: its own line tells then. */
  from: "text",
  to: "text?",
});

const shown = (json: Query): Query =>
  sql`${json} ->> '$.size.shownValue' || ' ± ' || (${json} ->> '$.size.shownUncertainty')`;

/** The re-evaluated results of the rows on a sheet by id, above `after`: each beside what took its place. */
export function reevaluatedOfSheet(
  db: ReadableDb,
  sheetId: string,
  after: number,
  count: number,
): ReevaluatedResult[] {
  return sql`SELECT s.id, l.audit_sequence AS sequence, lower(hex(a.hash)) AS hash, s.at, s.by, s.reason,
    s.row_id AS "rowId", r.ordinal, s.dimension,
      l.from_calibration_id AS "fromCalibrationId", l.to_calibration_id AS "toCalibrationId",
      ${shown(sql`s.measurement_json`)} AS "from",
      coalesce(
        (SELECT ${shown(sql`n.measurement_json`)} FROM superseded_measurement n
         WHERE n.row_id = s.row_id AND n.dimension = s.dimension AND n.id > s.id ORDER BY n.id LIMIT 1),
        (SELECT m.size_shown || ' ± ' || m.size_shown_uncertainty FROM measurement m
         WHERE m.row_key = r.key AND m.dimension = s.dimension AND m.entered_at <= s.at)) AS "to"
    FROM superseded_measurement s CROSS JOIN specimen_row r ON r.id = s.row_id
    JOIN reevaluation_slice l ON l.first_superseded_id =
      (SELECT max(first_superseded_id) FROM reevaluation_slice WHERE first_superseded_id <= s.id)
    JOIN audit_line a ON a.sequence = l.audit_sequence
    WHERE r.sheet_id = ${sheetId} AND r.undone_at IS NULL AND s.act = ${SLICE_ACT} AND s.id > ${after}
    ORDER BY s.id LIMIT ${count}`.all(db, resultOf);
}

/** SHA-256 over the superseded results of a slice as they are kept: a JSON array of the columns for each, in order. */
export function sliceSha256(
  db: ReadableDb,
  range: { readonly first: number; readonly last: number },
): string {
  const hash = createHash("sha256");
  const rows = sql`SELECT row_id, dimension, calibration_id, size_um, measurement_json, at, by, act, reason
    FROM superseded_measurement WHERE id BETWEEN ${range.first} AND ${range.last} ORDER BY id`.each(db);
  for (const row of rows) hash.update(`${JSON.stringify(Object.values(row))}\n`, "utf8");
  return hash.digest("hex");
}
