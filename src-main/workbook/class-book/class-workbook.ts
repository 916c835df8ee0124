import { createHash } from "node:crypto";
import type { Writable } from "node:stream";
import type { PracticeClass } from "#core/contract/records/practice-class.ts";
import { TRAIL_HEAD_LABEL } from "#core/contract/records/trail.ts";
import { HEAD_SIGNED_LABEL, type PrintedHead } from "#core/contract/records/trail-signature.ts";
import type { ClassCell, ClassTable } from "#core/practice/class-tables.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import { NO_PROGRESS } from "../../long-work/progress.ts";
import type { WrittenFile } from "../sheet-book/workbook.ts";
import { BookWriter } from "../spreadsheet/book-writer.ts";
import { type Cell, number, text } from "../spreadsheet/cell.ts";
import { type BookSetUp, openSheet, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { writeFileWhole } from "../spreadsheet/write-file.ts";
import { checkZip } from "../spreadsheet/zip-check.ts";

/** What a class of practice has shown, ready to be written. */
export interface ClassBook extends PrintedHead {
  readonly of: PracticeClass;
  readonly tables: readonly ClassTable[];
  readonly advice: readonly string[];
  readonly caution: string;
  readonly programLine: string;
  /** Instant of the export. */
  readonly asOf: string;
}

const SET_UP: BookSetUp = { kind: "values", paper: "A4", progress: NO_PROGRESS };
const WIDTHS = [34, 14, 14, 14, 16, 16];
const LAST = WIDTHS.length;

function open(workbook: BookWriter, book: ClassBook, name: string): SheetWriter {
  return openSheet(
    workbook,
    {
      name,
      widths: WIDTHS,
      frozenRows: 0,
      frozenColumns: 0,
      titleRows: null,
      landscape: false,
      footer: `Practice · ${book.of.name}`,
      programLine: book.programLine,
    },
    SET_UP,
  );
}

function cellOf(cell: ClassCell): Cell {
  if (cell === null) return text("–");
  if (typeof cell === "string") return text(cell, "wrapped");
  return number(textOfDecimal(cell.value), cell.places === 0 ? "whole" : "uncertainty");
}

async function writeResults(workbook: BookWriter, book: ClassBook): Promise<void> {
  const sheet = open(workbook, book, "Practice");
  sheet.row([text(`Practice of the class ${book.of.name}`, "title")]);
  sheet.spread([text(book.caution, "caution")], 1, LAST);
  sheet.skip();
  sheet.row([text("Who should practise what", "heading")]);
  for (const line of book.advice) sheet.spread([text(line, "wrapped")], 1, LAST);
  if (book.advice.length === 0) sheet.row([text("Nothing stands out.")]);
  for (const { title, words, columns, rows } of book.tables) {
    sheet.skip();
    sheet.row([text(title, "heading")]);
    for (const line of words) sheet.spread([text(line, "wrapped")], 1, LAST);
    sheet.row(columns.map((column) => text(column.title, "column")));
    for (const row of rows) sheet.row(row.map(cellOf));
  }
  await sheet.finish();
}

async function writeAbout(workbook: BookWriter, book: ClassBook, sha256: string): Promise<void> {
  const sheet = open(workbook, book, "About");
  const line = (name: string, words: string): void =>
    sheet.spread([text(name, "field"), text(words, "wrapped")], 2, LAST);
  line("Program", book.programLine);
  line("Made", book.asOf);
  line("Class made", book.of.madeAt);
  line("Seed", book.of.seed === null ? "one each" : `${book.of.seed} for all`);
  line("Real material", book.of.slide === "" ? "none" : `${book.of.slide}; nothing of it was put in force`);
  line("Data, SHA-256", sha256);
  line(
    "How it is made",
    "over the JSON text in UTF-8 of the class, the tables and the advice, numbers in full",
  );
  if (book.trailHead !== null) line(TRAIL_HEAD_LABEL, book.trailHead);
  if (book.headSigned !== null) line(HEAD_SIGNED_LABEL, book.headSigned);
  await sheet.finish();
}

async function fill(stream: Writable, book: ClassBook, sha256: string): Promise<void> {
  const workbook = new BookWriter(stream, { creator: book.programLine, createdAt: new Date(book.asOf) });
  await writeResults(workbook, book);
  await writeAbout(workbook, book, sha256);
  await workbook.commit();
}

async function check(path: string): Promise<void> {
  const parts = await checkZip(path, "<row ");
  const sheets = parts.filter(({ name }) => name.startsWith("xl/worksheets/sheet")).length;
  if (sheets !== 2) throw new Error(`The workbook was written with ${sheets} worksheets instead of 2.`);
}

/**
 * Writes the results of a class as a workbook of values, whole or not at all.
 * @throws Error of the file system, or when what was read back differs
 */
export async function writeClassWorkbook(book: ClassBook, path: string): Promise<WrittenFile> {
  const { of, tables, advice } = book;
  const dataSha256 = createHash("sha256")
    .update(JSON.stringify({ of, tables, advice }), "utf8")
    .digest("hex");
  const bytes = await writeFileWhole(path, (stream) => fill(stream, book, dataSha256), check);
  return { bytes, dataSha256 };
}
