import { createHash } from "node:crypto";
import type { Writable } from "node:stream";
import { TRAIL_HEAD_LABEL } from "#core/contract/records/trail.ts";
import { HEAD_SIGNED_LABEL, type PrintedHead } from "#core/contract/records/trail-signature.ts";
import type { TrainTrend } from "#core/contract/records/trend.ts";
import { trendSummary } from "#core/drawing/trend-summary.ts";
import { NO_PROGRESS } from "../../long-work/progress.ts";
import type { WrittenFile } from "../sheet-book/workbook.ts";
import { BookWriter } from "../spreadsheet/book-writer.ts";
import { type Cell, date, EMPTY, number, text } from "../spreadsheet/cell.ts";
import type { PngSize } from "../spreadsheet/png-size.ts";
import { placePicture } from "../spreadsheet/sheet-picture.ts";
import { type BookSetUp, openSheet, type SheetPlan } from "../spreadsheet/sheet-writer.ts";
import { writeFileWhole } from "../spreadsheet/write-file.ts";
import { checkZip } from "../spreadsheet/zip-check.ts";

/** The history of one train, with what a reader must know of it. */
export interface TrendBook extends PrintedHead {
  readonly train: string;
  readonly trend: TrainTrend;
  /** The chart, when the window gave one. */
  readonly picture: { readonly png: Buffer<ArrayBuffer>; readonly size: PngSize } | null;
  readonly programLine: string;
  /** Instant of the export. */
  readonly asOf: string;
}

const SET_UP: BookSetUp = { kind: "values", paper: "A4", progress: NO_PROGRESS };

function planOf(book: TrendBook, name: string, widths: readonly number[]): SheetPlan {
  return {
    name,
    widths,
    frozenRows: 1,
    frozenColumns: 1,
    titleRows: "1:1",
    landscape: true,
    footer: book.train,
    programLine: book.programLine,
  };
}

/** The most a picture may take of a landscape page of A4 or Letter below its words, px of 1/96 inch. */
const PAGE = { width: 900, height: 520 } as const;
const CHART = "Chart";

/** The picture on a worksheet of its own, with the same in words above it. */
async function writeChart(
  workbook: BookWriter,
  book: TrendBook,
  picture: NonNullable<TrendBook["picture"]>,
): Promise<void> {
  const plan = planOf(book, CHART, [110]);
  const sheet = openSheet(workbook, { ...plan, frozenRows: 0, frozenColumns: 0, titleRows: null }, SET_UP);
  const summary = trendSummary(book.trend);
  sheet.row([text(`Factor of ${book.train} over time`, "title")]);
  sheet.row([text(summary, "wrapped")]);
  sheet.skip();
  placePicture(workbook, sheet, {
    ...picture,
    shownWidth: Math.min(PAGE.width, (PAGE.height * picture.size.width) / picture.size.height),
    row: sheet.nextRow,
    name: "Factor over time",
    alternative: `Factor of ${book.train} over time. ${summary}`,
  });
  await sheet.finish();
}

const heads = (...titles: readonly string[]): Cell[] => titles.map((title) => text(title, "column"));

async function writeHistory(workbook: BookWriter, book: TrendBook): Promise<void> {
  const { points, baselines, reference } = book.trend;
  const sheet = openSheet(
    workbook,
    planOf(book, "History", [12, 14, 14, 12, 24, 26, 24, 12, 12, 14, 14, 40]),
    SET_UP,
  );
  sheet.row(
    heads(
      "Date",
      "Factor (µm/div)",
      "U (µm/div)",
      "Change (%)",
      "Person",
      "Stage micrometer",
      "Certificate",
      "State",
      "Counts",
      "E_n",
      "Baseline",
      "Rules",
    ),
  );
  for (const point of points) {
    const change = reference === null ? null : (Number(point.factor) / Number(reference) - 1) * 100;
    const began = baselines[point.baseline]?.from;
    await sheet.longRow([
      date(point.date),
      number(point.factor, "factor"),
      number(point.expandedUncertainty, "factor"),
      number(change, "uncertainty"),
      text(point.person),
      text(point.micrometer),
      text(point.certificate),
      text(point.state),
      text(point.counts ? "yes" : "no"),
      number(point.normalisedError, "uncertainty"),
      began === undefined ? EMPTY : date(began),
      text(point.signals.map(({ words }) => words).join("; "), "wrapped"),
    ]);
  }
  await sheet.finish();
}

async function writeLimits(workbook: BookWriter, book: TrendBook): Promise<void> {
  const sheet = openSheet(
    workbook,
    planOf(book, "Limits", [12, 12, 40, 8, 14, 14, 14, 14, 14, 16, 60]),
    SET_UP,
  );
  sheet.row(
    heads(
      "From",
      "To",
      "Begun by",
      "n",
      "Centre (µm/div)",
      "Warning, lower",
      "Warning, upper",
      "Action, lower",
      "Action, upper",
      "Slope per day",
      "Rule",
    ),
  );
  for (const one of book.trend.baselines) {
    sheet.row([
      date(one.from),
      date(one.to),
      text(one.begunBy ?? "", "wrapped"),
      number(one.n, "whole"),
      number(one.centre, "factor"),
      number(one.warning?.lower ?? null, "factor"),
      number(one.warning?.upper ?? null, "factor"),
      number(one.action?.lower ?? null, "factor"),
      number(one.action?.upper ?? null, "factor"),
      number(one.slopePerDay, "small"),
      text(one.rule, "wrapped"),
    ]);
  }
  await sheet.finish();
}

async function writeEvents(workbook: BookWriter, book: TrendBook): Promise<void> {
  const { events, checks, steps } = book.trend;
  const sheet = openSheet(workbook, planOf(book, "Events and checks", [12, 18, 70, 16]), SET_UP);
  sheet.row(heads("Date", "Kind", "What", "New baseline"));
  for (const event of events) {
    sheet.row([
      date(event.date),
      text(event.kind),
      text(event.words, "wrapped"),
      text(event.breaks ? "yes" : "no"),
    ]);
  }
  for (const check of checks) {
    const verdict = check.passed ? "passed" : "failed";
    const outcome = check.withdrawn === null ? verdict : `${verdict}, withdrawn: ${check.withdrawn}`;
    sheet.row([
      date(check.date),
      text("quick check"),
      text(`${check.shownFactor} µm/div by ${check.person}: ${outcome}`, "wrapped"),
      text("no"),
    ]);
  }
  for (const step of steps) {
    const where = `from ${step.after} to ${step.before}${step.event ? `, at ${step.event}` : ""}`;
    sheet.row([
      date(step.before),
      text("change of level"),
      text(`${Number(step.percent).toFixed(3)} % ${where}`, "wrapped"),
      EMPTY,
    ]);
  }
  await sheet.finish();
}

async function writeVerdict(workbook: BookWriter, book: TrendBook, sha256: string): Promise<void> {
  const { verdict, drift, advice, tolerance, conformity, nominalFactor, asOf } = book.trend;
  const sheet = openSheet(workbook, planOf(book, "Standing", [26, 90]), SET_UP);
  sheet.row([text(`Factor of ${book.train} over time`, "title")]);
  const line = (name: string, value: Cell): void => sheet.row([text(name, "field"), value]);
  line("Stands", text(`${verdict.kind}: ${verdict.why}`, "wrapped"));
  line("Drift", text(drift?.words ?? "Too few calibrations for a line.", "wrapped"));
  line("Tolerance", text(`± ${tolerance.percent} %. ${tolerance.origin}`, "wrapped"));
  line("Conformity", text(conformity?.words ?? "No factor in force.", "wrapped"));
  line("Nominal factor (µm/div)", number(nominalFactor, "factor"));
  line("Next calibration", text(advice.reason, "wrapped"));
  line("Proposed date", date(advice.proposedDue));
  for (const method of advice.methods)
    line(method.name, text(`${method.reason} ${method.source}`, "wrapped"));
  line("As of", date(asOf));
  line("Program", text(book.programLine));
  line("SHA-256 of the data", text(sha256));
  if (book.trailHead !== null) line(TRAIL_HEAD_LABEL, text(book.trailHead, "wrapped"));
  if (book.headSigned !== null) line(HEAD_SIGNED_LABEL, text(book.headSigned, "wrapped"));
  await sheet.finish();
}

const SHEETS = 4;

const sheetsOf = (book: TrendBook): number => (book.picture === null ? SHEETS : SHEETS + 1);

async function fill(stream: Writable, book: TrendBook, sha256: string): Promise<void> {
  const createdAt = new Date(book.asOf);
  const workbook = new BookWriter(stream, { creator: book.programLine, createdAt });
  if (book.picture) await writeChart(workbook, book, book.picture);
  await writeHistory(workbook, book);
  await writeLimits(workbook, book);
  await writeEvents(workbook, book);
  await writeVerdict(workbook, book, sha256);
  await workbook.commit();
}

async function check(path: string, book: TrendBook): Promise<void> {
  const entries = await checkZip(path, "<row ");
  const parts = entries.filter(({ name }) => name.startsWith("xl/worksheets/sheet"));
  const lines = book.trend.points.length + 1;
  const history = `xl/worksheets/sheet${sheetsOf(book) - SHEETS + 1}.xml`;
  const rows = parts.find(({ name }) => name === history)?.hits;
  if (parts.length !== sheetsOf(book) || rows !== lines) {
    throw new Error(`The workbook was written with ${rows ?? 0} lines instead of ${lines}.`);
  }
  const picture = entries.find(({ name }) => name.startsWith("xl/media/"))?.size ?? 0;
  if (picture !== (book.picture?.png.length ?? 0)) {
    throw new Error("The workbook's picture did not reach the disk as it was given.");
  }
}

/**
 * Writes the history of a train as a workbook of values, with the picture of its chart if there is one, whole or not at all. The SHA-256 is that of the history as JSON
 * text in UTF-8, as `trends.train` gives it.
 * @throws Error of the file system, or when what was read back differs
 */
export async function writeTrendWorkbook(book: TrendBook, path: string): Promise<WrittenFile> {
  const dataSha256 = createHash("sha256").update(JSON.stringify(book.trend), "utf8").digest("hex");
  const bytes = await writeFileWhole(
    path,
    (stream) => fill(stream, book, dataSha256),
    (temporary) => check(temporary, book),
  );
  return { bytes, dataSha256 };
}
