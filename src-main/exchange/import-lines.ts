import { createReadStream } from "node:fs";
import { open } from "node:fs/promises";
import { setImmediate } from "node:timers/promises";
import { createRecordReader, delimiterOf, UnreadableText } from "#core/quantity/delimited-text.ts";
import { type FoundCell, openWorkbookFile, UnreadableWorkbook } from "./workbook-file.ts";

export const MOST_IMPORT_LINES = 100_000;
export const MOST_IMPORT_COLUMNS = 200;
const BEGINNING = 64 * 1024;

/** A file of readings as a table of text, whatever it came as. */
export interface ImportLines {
  readonly kind: "csv" | "tsv" | "xlsx";
  readonly worksheets: readonly string[];
  readonly worksheet: string | null;
  readonly lines: readonly (readonly string[])[];
}

/** @throws UnreadableWorkbook */
function requireSize(lines: number, columns: number): void {
  if (lines > MOST_IMPORT_LINES)
    throw new UnreadableWorkbook(`it has more than ${MOST_IMPORT_LINES.toLocaleString("en-GB")} lines`);
  if (columns > MOST_IMPORT_COLUMNS)
    throw new UnreadableWorkbook(`it has more than ${MOST_IMPORT_COLUMNS} columns`);
}

/** Sixteen digits that a spreadsheet stores become the shortest number that is the same: 40.3, not 40.299999999999997. */
function shownValue({ value }: FoundCell): string {
  return value === null ? "" : String(value);
}

async function workbookLines(path: string, wanted: string | null): Promise<ImportLines | null> {
  const file = await openWorkbookFile(path);
  try {
    const worksheet = wanted ?? file.worksheets[0] ?? "";
    if (!file.worksheets.includes(worksheet)) return null;
    const lines: string[][] = [];
    for await (const cells of file.cells(worksheet)) {
      for (const cell of cells) {
        requireSize(cell.row, cell.column);
        while (lines.length < cell.row) lines.push([]);
        const line = lines[cell.row - 1] ?? [];
        while (line.length < cell.column - 1) line.push("");
        line[cell.column - 1] = shownValue(cell);
      }
    }
    return { kind: "xlsx", worksheets: file.worksheets, worksheet, lines };
  } finally {
    await file.close();
  }
}

/** UTF-16 with its mark is what some spreadsheets save as “Unicode text”. */
function encodingOf(beginning: Buffer): "utf-8" | "utf-16le" {
  return beginning[0] === 0xff && beginning[1] === 0xfe ? "utf-16le" : "utf-8";
}

async function textLines(path: string, beginning: Buffer): Promise<ImportLines> {
  const encoding = encodingOf(beginning);
  const delimiter = delimiterOf(new TextDecoder(encoding).decode(beginning));
  const decoder = new TextDecoder(encoding, { fatal: true });
  const reader = createRecordReader(delimiter);
  const lines: string[][] = [];
  const take = (records: string[][]): void => {
    for (const record of records) lines.push(record);
    requireSize(
      lines.length,
      records.reduce((most, one) => Math.max(most, one.length), 0),
    );
  };
  for await (const piece of createReadStream(path, { highWaterMark: BEGINNING })) {
    take(reader.read(decoder.decode(piece as Buffer, { stream: true })));
    await setImmediate();
  }
  take(reader.read(decoder.decode()));
  take(reader.end());
  return { kind: delimiter === "\t" ? "tsv" : "csv", worksheets: [], worksheet: null, lines };
}

async function beginningOf(path: string): Promise<Buffer> {
  const file = await open(path, "r");
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(BEGINNING), 0, BEGINNING, 0);
    return buffer.subarray(0, bytesRead);
  } finally {
    await file.close();
  }
}

/**
 * Reads CSV, TSV or a worksheet of a workbook; what the file is follows from its content, not from its name. Null when
 * the workbook has no worksheet of that name.
 * @throws UnreadableWorkbook
 */
export async function readImportLines(path: string, worksheet: string | null): Promise<ImportLines | null> {
  const beginning = await beginningOf(path);
  if (beginning.subarray(0, 4).equals(Buffer.from("PK\u0003\u0004", "latin1")))
    return workbookLines(path, worksheet);
  try {
    return await textLines(path, beginning);
  } catch (error) {
    if (error instanceof UnreadableText) throw new UnreadableWorkbook(error.message);
    if (error instanceof TypeError) throw new UnreadableWorkbook("its text is not UTF-8: save it as UTF-8");
    throw error;
  }
}
