import type { LabelHistory } from "#core/contract/records/sheet-columns.ts";
import { type BinCount, bandOfBins } from "#core/measurement/size-history.ts";
import type { DecimalText } from "#core/quantity/decimal-text.ts";
import type { ReadableDb, Row } from "../connection.ts";
import { type Query, sql } from "../sql.ts";

const elsewhere = (
  sheetId: string,
): Query => sql`SELECT f.label_stem AS label, f.dimension, f.bin, f.n - coalesce(s.n, 0) AS n
  FROM family_size_bin f LEFT JOIN sheet_size_bin s
    ON s.sheet_id = ${sheetId} AND s.label_stem = f.label_stem AND s.dimension = f.dimension
    AND s.bin = f.bin`;
/** Counts of one label on the other sheets of a family: all sheets together less this one. */
export const binsOfLabelElsewhere = (sheetId: string, familyId: string, label: string): Query =>
  sql`${elsewhere(sheetId)} WHERE f.family_id = ${familyId} AND f.label_stem = ${label}
    ORDER BY f.dimension, f.bin`;
export const allBinsElsewhere = (sheetId: string, familyId: string): Query =>
  sql`${elsewhere(sheetId)} WHERE f.family_id = ${familyId} ORDER BY f.label_stem, f.dimension, f.bin`;

interface LabelledBin extends BinCount {
  readonly label: string;
  readonly dimension: string;
}

function binOf(row: Row): LabelledBin {
  const { label, dimension, bin, n } = row;
  return { label: String(label), dimension: String(dimension), bin: Number(bin), n: Number(n) };
}

/** Written by the core as plain decimals. */
function stored(value: string): DecimalText {
  return value as DecimalText;
}

function historiesOf(bins: readonly LabelledBin[]): LabelHistory[] {
  const grouped = new Map<string, [LabelledBin, ...LabelledBin[]]>();
  for (const bin of bins) {
    if (bin.n <= 0) continue;
    const key = `${bin.dimension}\n${bin.label}`;
    const group = grouped.get(key);
    if (group) group.push(bin);
    else grouped.set(key, [bin]);
  }
  return [...grouped.values()].map((group) => {
    const { n, least, low, median, high, greatest } = bandOfBins(group);
    return {
      label: group[0].label,
      dimension: group[0].dimension,
      n,
      least: stored(least),
      greatest: stored(greatest),
      low: stored(low),
      median: stored(median),
      high: stored(high),
    };
  });
}

/** What one label (without its running number) measures on other sheets of the method's family, per dimension. */
export function historyOfLabel(
  db: ReadableDb,
  of: { readonly sheetId: string; readonly familyId: string; readonly label: string },
): LabelHistory[] {
  return historiesOf(binsOfLabelElsewhere(of.sheetId, of.familyId, of.label).all(db, binOf));
}

/** The same for every label of the family. */
export function historiesElsewhere(db: ReadableDb, sheetId: string, familyId: string): LabelHistory[] {
  return historiesOf(allBinsElsewhere(sheetId, familyId).all(db, binOf));
}

/** Counts that are not what the measurements make: of one sheet, and of all sheets of the families together. */

export interface WrongCount {
  readonly label: string;
  readonly dimension: string;
  readonly kept: number;
  readonly counted: number;
}

function wrongCountOf({ label, dimension, kept, counted }: Row): WrongCount {
  return {
    label: String(label),
    dimension: String(dimension),
    kept: Number(kept),
    counted: Number(counted),
  };
}

/** Counts of a sheet that its measurements do not bear out. */
export function wrongCountsOfSheet(db: ReadableDb, sheetId: string): WrongCount[] {
  return sql`WITH kept AS
      (SELECT label_stem, dimension, bin, n FROM sheet_size_bin WHERE sheet_id = ${sheetId} AND n <> 0),
    counted AS
      (SELECT r.label_stem, d.dimension, d.size_bin AS bin, count(*) AS n
       FROM specimen_row r CROSS JOIN measurement d ON d.row_key = r.key
       WHERE r.sheet_id = ${sheetId} AND r.struck_at IS NULL AND r.undone_at IS NULL AND r.label_stem <> ''
         AND d.size_bin IS NOT NULL GROUP BY 1, 2, 3)
    SELECT label_stem AS label, dimension, bin, coalesce(kept.n, 0) AS kept, coalesce(counted.n, 0) AS counted
    FROM kept FULL JOIN counted USING (label_stem, dimension, bin)
    WHERE kept.n IS NOT counted.n`.all(db, wrongCountOf);
}

/** Counts of whole families that their sheets do not add up to. */
export function wrongCountsOfFamilies(db: ReadableDb): WrongCount[] {
  return sql`WITH kept AS
      (SELECT family_id, label_stem, dimension, bin, n FROM family_size_bin WHERE n <> 0),
    counted AS
      (SELECT m.family_id, b.label_stem, b.dimension, b.bin, sum(b.n) AS n
       FROM sheet_size_bin b JOIN sheet s ON s.id = b.sheet_id JOIN method m ON m.id = s.method_id
       WHERE b.n <> 0 GROUP BY 1, 2, 3, 4)
    SELECT label_stem AS label, dimension, bin, coalesce(kept.n, 0) AS kept, coalesce(counted.n, 0) AS counted
    FROM kept FULL JOIN counted USING (family_id, label_stem, dimension, bin)
    WHERE kept.n IS NOT counted.n`.all(db, wrongCountOf);
}
