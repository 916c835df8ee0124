import type { Writable } from "node:stream";
import type { Paper } from "#core/contract/records/exchange.ts";
import { NO_PROGRESS, type Progress } from "../../long-work/progress.ts";
import { BookWriter } from "../spreadsheet/book-writer.ts";
import type { WorkbookKind } from "../spreadsheet/cell.ts";
import { writeFileWhole } from "../spreadsheet/write-file.ts";
import { checkZip } from "../spreadsheet/zip-check.ts";
import { writeAboutSheet } from "./about-sheet.ts";
import { writeAmendmentsSheet } from "./amendments-sheet.ts";
import { writeCalibrationsSheet } from "./calibrations-sheet.ts";
import { writeCertificatesSheet } from "./certificates-sheet.ts";
import { writeContentsSheet } from "./contents-sheet.ts";
import { jointDigest } from "./data-digest.ts";
import { bookNames, WORKSHEET_KEYS, type WorkbookJob, type WorksheetKey } from "./job.ts";
import { lookupsOf, traceLine } from "./lookups.ts";
import { methodNumbers } from "./method-cells.ts";
import { cautionsOf, statisticsAreLive, writeResultsSheet } from "./results-sheet.ts";
import { rowLayout } from "./row-layout.ts";
import { picturesByRow } from "./row-pictures.ts";
import { rowResults } from "./row-results.ts";
import { writeRowsSheet } from "./rows-sheet.ts";
import type { SheetBundle } from "./sheet-bundle-type.ts";
import { surveyRows } from "./survey.ts";

export interface WrittenFile {
  readonly bytes: number;
  /** SHA-256 of the records behind it, as printed on About. */
  readonly dataSha256: string;
}

export interface WorkbookOptions {
  readonly kind: WorkbookKind;
  readonly paper?: Paper;
  readonly progress?: Progress;
}

/** Everything a sheet's worksheets are written from, after one walk over its rows. */
export async function jobOf(
  bundle: SheetBundle,
  { kind, paper = "A4", progress = NO_PROGRESS }: WorkbookOptions,
  several: { readonly position: number; readonly number: string } | null = null,
): Promise<WorkbookJob> {
  const lookups = lookupsOf(bundle);
  const numbers = methodNumbers(bundle.method);
  const results = rowResults(bundle, lookups, numbers);
  const survey = await surveyRows(bundle, lookups, numbers, results, progress);
  return {
    bundle,
    kind,
    paper,
    progress,
    names: bookNames(several),
    layout: rowLayout(bundle.method, survey.readings),
    lookups,
    numbers,
    survey,
    results,
    pictures: picturesByRow(bundle),
    trace: traceLine(bundle, lookups),
    programLine: `${bundle.program.name} ${bundle.program.version}`,
  };
}

/** The writer of each worksheet; `WORKSHEETS` gives their order. */
const WRITERS: Readonly<Record<WorksheetKey, (workbook: BookWriter, job: WorkbookJob) => Promise<void>>> = {
  results: writeResultsSheet,
  rows: writeRowsSheet,
  calibrations: writeCalibrationsSheet,
  certificates: writeCertificatesSheet,
  amendments: writeAmendmentsSheet,
  about: (workbook, job) => writeAboutSheet(workbook, job, cautionsOf(job, statisticsAreLive(job))),
};

/** Worksheets in order: the packer takes one at a time, and a worksheet opened early would hold up all others. */
async function fillWorkbook(stream: Writable, jobs: readonly WorkbookJob[]): Promise<void> {
  const first = jobs[0];
  if (first === undefined) throw new RangeError("A workbook needs at least one sheet.");
  const createdAt = new Date(first.bundle.asOf);
  const workbook = new BookWriter(stream, { creator: first.programLine, createdAt });
  if (jobs.length > 1) await writeContentsSheet(workbook, jobs);
  for (const job of jobs) for (const key of WORKSHEET_KEYS) await WRITERS[key](workbook, job);
  await workbook.commit();
}

const PER_SHEET = WORKSHEET_KEYS.length;
const ROWS_AT = WORKSHEET_KEYS.indexOf("rows") + 1;

/** Rows of every worksheet Rows must be found again: the heading and each specimen row. */
async function checkWorkbook(path: string, jobs: readonly WorkbookJob[]): Promise<void> {
  const parts = await checkZip(path, "<row ");
  const before = jobs.length > 1 ? 1 : 0;
  const sheets = parts.filter((part) => part.name.startsWith("xl/worksheets/sheet"));
  if (sheets.length !== before + PER_SHEET * jobs.length) {
    throw new Error(`The workbook was written with ${sheets.length} worksheets.`);
  }
  jobs.forEach((job, index) => {
    const position = before + index * PER_SHEET + ROWS_AT;
    const rows = parts.find((part) => part.name === `xl/worksheets/sheet${position}.xml`);
    if (rows?.hits === job.survey.rows + 1) return;
    throw new Error(
      `The workbook was written with ${rows?.hits ?? 0} lines on Rows instead of ${job.survey.rows + 1}.`,
    );
  });
}

/**
 * Writes the workbook of one sheet or of several so that under `path` there is either the earlier file or the whole new
 * one. Memory stays bounded by the number of sizes (two numbers each) and of different texts, not by the cells.
 * @throws Error (of the file system, when it is stopped, or when what was read back differs); the earlier file is then
 * untouched
 */
export async function writeJobWorkbook(
  bundles: readonly SheetBundle[],
  options: WorkbookOptions,
  path: string,
): Promise<WrittenFile> {
  const jobs: WorkbookJob[] = [];
  for (const bundle of bundles) {
    const several = bundles.length === 1 ? null : { position: jobs.length + 1, number: bundle.sheet.number };
    jobs.push(await jobOf(bundle, options, several));
  }
  const bytes = await writeFileWhole(
    path,
    (stream) => fillWorkbook(stream, jobs),
    (temporary) => checkWorkbook(temporary, jobs),
  );
  return { bytes, dataSha256: jointDigest(jobs.map((job) => job.survey.dataSha256)) };
}

/** The workbook of one sheet; see `writeJobWorkbook`. */
export async function writeWorkbook(
  bundle: SheetBundle,
  kind: WorkbookKind,
  path: string,
): Promise<WrittenFile> {
  return writeJobWorkbook([bundle], { kind }, path);
}
