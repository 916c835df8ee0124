import type { SheetColumns } from "#core/contract/records/sheet-columns.ts";
import type { DecimalText } from "#core/quantity/decimal-text.ts";
import { all, type ReadableDb } from "../connection.ts";

export const LABELS_FROM = `SELECT r.ordinal, r.label, r.struck_at IS NOT NULL AS struck FROM specimen_row r
  WHERE r.sheet_id = ? AND r.ordinal >= ? AND r.undone_at IS NULL ORDER BY r.ordinal LIMIT ?`;
export const SIZES_BETWEEN = `SELECT r.ordinal, m.dimension, m.size_um AS size, m.flags_json AS flags
  FROM specimen_row r CROSS JOIN measurement m ON m.row_key = r.key
  WHERE r.sheet_id = ? AND r.ordinal BETWEEN ? AND ? AND r.undone_at IS NULL AND m.divisions_text IS NOT NULL`;

/** Labels, struck rows, sizes and flags of rows `from`…, column by column. */
export function columnsOfSheet(
  db: ReadableDb,
  sheet: { readonly id: string; readonly rowCount: number },
  dimensions: readonly string[],
  { from, count }: { readonly from: number; readonly count: number },
): SheetColumns {
  const rows = all(db, LABELS_FROM, sheet.id, from, count);
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
  for (const dimension of dimensions) {
    sizes[dimension] = new Array<null>(rows.length).fill(null);
    flags[dimension] = new Array<null>(rows.length).fill(null);
  }
  const flagSets = new Map<string, number>();
  for (const row of all(db, SIZES_BETWEEN, sheet.id, from, from + rows.length - 1)) {
    const at = Number(row.ordinal) - from;
    const ofSizes = sizes[String(row.dimension)];
    const ofFlags = flags[String(row.dimension)];
    if (!ofSizes || !ofFlags) continue;
    // Written by `textOfDecimal` and checked by the table.
    if (row.size !== null) ofSizes[at] = String(row.size) as DecimalText;
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
  };
}
