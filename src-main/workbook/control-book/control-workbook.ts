import { createHash } from "node:crypto";
import type { Writable } from "node:stream";
import type { ControlSeries } from "#core/contract/records/control-sample.ts";
import type { Paper } from "#core/contract/records/exchange.ts";
import { TRAIL_HEAD_LABEL } from "#core/contract/records/trail.ts";
import { HEAD_SIGNED_LABEL, type PrintedHead } from "#core/contract/records/trail-signature.ts";
import { NO_PROGRESS } from "../../long-work/progress.ts";
import type { WrittenFile } from "../sheet-book/workbook.ts";
import { BookWriter } from "../spreadsheet/book-writer.ts";
import { number, text } from "../spreadsheet/cell.ts";
import { openSheet } from "../spreadsheet/sheet-writer.ts";
import { writeFileWhole } from "../spreadsheet/write-file.ts";
import { checkZip } from "../spreadsheet/zip-check.ts";
import { CONTROL_TITLES } from "../words/headings.ts";
import { CONTROL_COLUMNS } from "./control-columns.ts";

/** A series of control samples, ready to be written. */
export interface ControlBook extends PrintedHead {
  readonly series: ControlSeries;
  readonly paper: Paper;
  readonly programLine: string;
  /** Instant of the export. */
  readonly asOf: string;
}

const RULES = {
  blank:
    "p: so many objects or more, given the blanks before it, by the binomial law (conditional test of two Poisson counts); beyond from 0.01 down.",
  recovery:
    "Limits: mean ± t(0.995, n − 1)·s·√(1 + 1/n) of those before it that lay within theirs; of counts of about equal number 1 of 100 lies beyond with nothing wrong, of few and many in turn up to 3.",
  duplicate:
    "Limit: t(0.995, n)·√(Σd²/n) of the relative differences before it that lay within theirs; of counts of about equal number 1 of 100 lies beyond with nothing wrong, of few and many in turn up to 3.",
} as const;

const HEAD_ROW = 5;

async function fill(stream: Writable, book: ControlBook, sha256: string): Promise<void> {
  const { series, programLine, asOf, paper } = book;
  const workbook = new BookWriter(stream, { creator: programLine, createdAt: new Date(asOf) });
  const columns = CONTROL_COLUMNS[series.kind];
  const sheet = openSheet(
    workbook,
    {
      name: CONTROL_TITLES[series.kind],
      widths: columns.map(({ width }) => width),
      frozenRows: HEAD_ROW,
      frozenColumns: 1,
      titleRows: `${HEAD_ROW}:${HEAD_ROW}`,
      landscape: true,
      footer: `${CONTROL_TITLES[series.kind]} · ${series.name}`,
      programLine,
    },
    { kind: "live", paper, progress: NO_PROGRESS },
  );
  sheet.row([text(`${CONTROL_TITLES[series.kind]}: ${series.name}`, "title")]);
  sheet.spread([text(RULES[series.kind], "wrapped")], 1, 8);
  for (const side of ["lower", "upper"] as const) {
    sheet.nameCell(sheet.nextRow, 4, `stated_${side}`);
    sheet.row([
      text(side === "lower" ? "Stated, at least" : "Stated, at most", "field"),
      text(series.source, "wrapped"),
      text(series.unit),
      number(series.stated?.[side] ?? null, "given"),
    ]);
  }
  sheet.row(columns.map(({ title }) => text(title, "column")));
  for (const point of series.points) {
    const at = { row: sheet.nextRow, head: HEAD_ROW };
    await sheet.longRow(columns.map(({ cell }) => cell(point, at)));
  }
  sheet.skip();
  for (const words of series.without) sheet.spread([text(words, "wrapped")], 1, 8);
  if (series.isClustered) {
    sheet.spread([text("Objects cluster in some of these counts: p is then too small.", "caution")], 1, 8);
  }
  const line = (name: string, words: string): void =>
    sheet.spread([text(name, "field"), text(words, "wrapped")], 2, 8);
  line("Program", programLine);
  line("As of", asOf);
  line("Data, SHA-256", sha256);
  if (book.trailHead !== null) line(TRAIL_HEAD_LABEL, book.trailHead);
  if (book.headSigned !== null) line(HEAD_SIGNED_LABEL, book.headSigned);
  await sheet.finish();
  await workbook.commit();
}

async function check(path: string, { series }: ControlBook): Promise<void> {
  const sheets = (await checkZip(path, "<row ")).filter(({ name }) => name.startsWith("xl/worksheets/sheet"));
  const rows = sheets[0]?.hits ?? 0;
  if (sheets.length !== 1 || rows < HEAD_ROW + series.points.length) {
    throw new Error(
      `The workbook was written with ${rows} lines for ${series.points.length} control samples.`,
    );
  }
}

/**
 * Writes a series of control samples as a workbook with live formulas, whole or not at all. The SHA-256 is that of the
 * series as JSON text in UTF-8, as `counts.controls` gives it.
 * @throws Error of the file system, or when what was read back differs
 */
export async function writeControlWorkbook(book: ControlBook, path: string): Promise<WrittenFile> {
  const dataSha256 = createHash("sha256").update(JSON.stringify(book.series), "utf8").digest("hex");
  const bytes = await writeFileWhole(
    path,
    (stream) => fill(stream, book, dataSha256),
    (temporary) => check(temporary, book),
  );
  return { bytes, dataSha256 };
}
