import type { SheetColumns } from "#core/contract/records/sheet-columns.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { type DecimalText, textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { ReadableDb } from "../connection.ts";
import { type Query, sql } from "../sql.ts";
import { findCalibration } from "./calibration-repository.ts";

export const labelsFrom = (sheetId: string, from: number, count: number): Query =>
  sql`SELECT r.ordinal, r.label, r.struck_at IS NOT NULL AS struck FROM specimen_row r
    WHERE r.sheet_id = ${sheetId} AND r.ordinal >= ${from} AND r.undone_at IS NULL ORDER BY r.ordinal
    LIMIT ${count}`;
export const sizesBetween = (sheetId: string, from: number, to: number): Query =>
  sql`SELECT r.ordinal, m.dimension, m.size_um AS size, m.calibration, m.flags_json AS flags
    FROM specimen_row r CROSS JOIN measurement m ON m.row_key = r.key
    WHERE r.sheet_id = ${sheetId} AND r.ordinal BETWEEN ${from} AND ${to} AND r.undone_at IS NULL
      AND m.divisions_text IS NOT NULL`;

/** The factors of calibrations by their numbers in the table of measurements, in the order of these. */
function factorsOf(db: ReadableDb, numbers: readonly number[]): SheetColumns["factors"] {
  return numbers.map((number) => {
    const named = sql`SELECT calibration_id AS id FROM measurement_calibration WHERE id = ${number}`.one(db);
    const calibration = findCalibration(db, String(named?.id));
    const result = calibration?.result;
    if (!calibration || !result) throw new Error(`the calibration ${number} of a size has no factor`);
    const { factor, standardUncertainty, degreesOfFreedom } = result;
    const relativeUncertainty = textOfDecimal(decimal(standardUncertainty).div(factor));
    return { calibrationId: calibration.id, relativeUncertainty, degreesOfFreedom };
  });
}

/** Labels, struck rows, sizes, flags and factors of rows `from`…, column by column. */
export function columnsOfSheet(
  db: ReadableDb,
  sheet: { readonly id: string; readonly rowCount: number },
  dimensions: readonly string[],
  { from, count }: { readonly from: number; readonly count: number },
): SheetColumns {
  const rows = labelsFrom(sheet.id, from, count).all(db);
  const labels = new Map<string, number>();
  const label = rows.map((row) => {
    const text = String(row.label);
    const known = labels.get(text);
    if (known !== undefined) return known;
    labels.set(text, labels.size);
    return labels.size - 1;
  });
  const sizes: Record<string, (DecimalText | null)[]> = {};
  const flags: Record<string, (number | null)[]> = {};
  const factor: Record<string, (number | null)[]> = {};
  for (const dimension of dimensions) {
    sizes[dimension] = new Array<null>(rows.length).fill(null);
    flags[dimension] = new Array<null>(rows.length).fill(null);
    factor[dimension] = new Array<null>(rows.length).fill(null);
  }
  const flagSets = new Map<string, number>();
  const factors = new Map<number, number>();
  for (const row of sizesBetween(sheet.id, from, from + rows.length - 1).all(db)) {
    const at = Number(row.ordinal) - from;
    const ofSizes = sizes[String(row.dimension)];
    const ofFlags = flags[String(row.dimension)];
    const ofFactors = factor[String(row.dimension)];
    if (!ofSizes || !ofFlags || !ofFactors) continue;
    if (row.size !== null) {
      // Written by `textOfDecimal` and checked by the table.
      ofSizes[at] = String(row.size) as DecimalText;
      const number = Number(row.calibration);
      if (!factors.has(number)) factors.set(number, factors.size);
      ofFactors[at] = factors.get(number) ?? null;
    }
    const set = String(row.flags);
    if (!flagSets.has(set)) flagSets.set(set, flagSets.size);
    ofFlags[at] = flagSets.get(set) ?? null;
  }
  return {
    total: sheet.rowCount,
    from,
    count: rows.length,
    labels: [...labels.keys()],
    label,
    struck: rows.filter((row) => row.struck === 1).map((row) => Number(row.ordinal)),
    sizes,
    flagSets: [...flagSets.keys()].map((set) => JSON.parse(set)),
    flags,
    factors: factorsOf(db, [...factors.keys()]),
    factor,
  };
}
