import type { LabelHistory } from "#core/contract/records/sheet-columns.ts";
import { type BinCount, bandOfBins } from "#core/measurement/size-history.ts";
import type { DecimalText } from "#core/quantity/decimal-text.ts";
import { all, type ReadableDb, type Row } from "./connection.ts";

const ELSEWHERE = `SELECT f.label_stem AS label, f.dimension, f.bin, f.n - coalesce(s.n, 0) AS n
  FROM family_size_bin f LEFT JOIN sheet_size_bin s
    ON s.sheet_id = ? AND s.label_stem = f.label_stem AND s.dimension = f.dimension AND s.bin = f.bin`;
/** Counts of one label on the other sheets of a family: all sheets together less this one. */
export const BINS_OF_LABEL_ELSEWHERE = `${ELSEWHERE} WHERE f.family_id = ? AND f.label_stem = ?
  ORDER BY f.dimension, f.bin`;
export const ALL_BINS_ELSEWHERE = `${ELSEWHERE} WHERE f.family_id = ?
  ORDER BY f.label_stem, f.dimension, f.bin`;

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
    const { n, low, median, high } = bandOfBins(group);
    return {
      label: group[0].label,
      dimension: group[0].dimension,
      n,
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
  return historiesOf(all(db, BINS_OF_LABEL_ELSEWHERE, of.sheetId, of.familyId, of.label).map(binOf));
}

/** The same for every label of the family. */
export function historiesElsewhere(db: ReadableDb, sheetId: string, familyId: string): LabelHistory[] {
  return historiesOf(all(db, ALL_BINS_ELSEWHERE, sheetId, familyId).map(binOf));
}
