import { guarded } from "#core/measurement/formula-guard.ts";

const PLAIN_NUMBER = /^-?\d+(?:\.\d+)?$/;

/** UTF-8's mark at the beginning of a file; without it spreadsheets take `µ` for two characters. */
export const CSV_MARK = "\ufeff";
export const CSV_LINE_END = "\r\n";

function quoted(text: string): string {
  return `"${text.replaceAll('"', '""')}"`;
}

/** A field of free text: guarded, and quoted whatever it holds (RFC 4180, 2.5 to 2.7). */
export function csvText(text: string): string {
  return text === "" ? "" : quoted(guarded(text));
}

/** A number as plain digits with a point; empty for null. @throws RangeError for anything else */
export function csvNumber(value: string | number | null): string {
  if (value === null) return "";
  const text = String(value);
  if (!PLAIN_NUMBER.test(text)) throw new RangeError(`A CSV number cannot be ${JSON.stringify(text)}.`);
  return text;
}

/** One record of a file, its fields ready-made by `csvText` and `csvNumber`. */
export function csvRecord(fields: readonly string[]): string {
  return fields.join(",") + CSV_LINE_END;
}
