import { labelStem, sizeBin } from "#core/measurement/size-history.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { ReadableDb, Row } from "../connection.ts";
import { sql } from "../sql.ts";

const MOST_REMEMBERED = 20_000;

/** A function that gives equal answers to equal texts, and keeps the latest of them. */
function remembering<T>(answer: (text: string) => T): (text: string) => T {
  const known = new Map<string, T>();
  return (text) => {
    const found = known.get(text);
    if (found !== undefined || known.has(text)) return found as T;
    if (known.size >= MOST_REMEMBERED) known.clear();
    const value = answer(text);
    known.set(text, value);
    return value;
  };
}

const binOf = remembering((size) => sizeBin(decimal(size)));
const stemOf = remembering(labelStem);

const KEYS = sql`r.ordinal, r.label, r.label_stem AS stem, m.dimension, m.size_um AS size, m.size_bin AS bin`;

/** By row and dimension, from ordinal `from`: the keys of histories that do not follow from label and size. */
export function wrongHistoryKeys(db: ReadableDb, sheetId: string, from: number, to: number): string[] {
  // Rows that are taken away are looked at by their names: the index of a sheet's rows leads to the others alone.
  return wrongAmong(
    sql`SELECT ${KEYS} FROM specimen_row r LEFT JOIN measurement m ON m.row_key = r.key
      WHERE r.sheet_id = ${sheetId} AND r.undone_at IS NULL AND r.ordinal BETWEEN ${from}
      AND ${to}`.all(db),
  );
}

/** The same of some rows that were taken away. */
export function wrongKeysOfUndone(db: ReadableDb, ids: readonly string[]): string[] {
  return wrongAmong(
    sql`SELECT ${KEYS} FROM json_each(${JSON.stringify(ids)}) j CROSS JOIN specimen_row r ON r.id = j.value
        LEFT JOIN measurement m ON m.row_key = r.key
      WHERE r.undone_at IS NOT NULL`.all(db),
  );
}

function wrongAmong(rows: readonly Row[]): string[] {
  return rows.flatMap(({ ordinal, label, stem, dimension, size, bin }) => {
    const expected = size === null ? null : binOf(String(size));
    const wrong = [];
    if (stem !== stemOf(String(label))) wrong.push(`row ${ordinal}, stem of its label`);
    if (bin !== expected) wrong.push(`row ${ordinal}, ${dimension}, class of its size`);
    return wrong;
  });
}
