import type { Writable } from "node:stream";
import ExcelJS from "exceljs";
import { writeAboutSheet } from "./about-sheet.ts";
import { writeAmendmentsSheet } from "./amendments-sheet.ts";
import { writeCalibrationsSheet } from "./calibrations-sheet.ts";
import type { WorkbookKind } from "./cell.ts";
import { writeCertificatesSheet } from "./certificates-sheet.ts";
import { WORKSHEETS, type WorkbookJob } from "./job.ts";
import { lookupsOf, traceLine } from "./lookups.ts";
import { methodNumbers } from "./method-cells.ts";
import { cautionsOf, statisticsAreLive, writeResultsSheet } from "./results-sheet.ts";
import { writeRowsSheet } from "./rows-sheet.ts";
import type { SheetBundle } from "./sheet-bundle-type.ts";
import { surveyRows } from "./survey.ts";
import { writeFileWhole } from "./write-file.ts";
import { checkZip } from "./zip-check.ts";

export interface WrittenWorkbook {
  readonly bytes: number;
  /** SHA-256 of the records behind it, as printed on About. */
  readonly dataSha256: string;
}

async function jobOf(bundle: SheetBundle, kind: WorkbookKind): Promise<WorkbookJob> {
  const lookups = lookupsOf(bundle);
  const numbers = methodNumbers(bundle.method);
  return {
    bundle,
    kind,
    lookups,
    numbers,
    survey: await surveyRows(bundle, lookups, numbers),
    trace: traceLine(bundle, lookups),
    programLine: `${bundle.program.name} ${bundle.program.version}`,
  };
}

/** Worksheets in order: the packer takes one at a time, and a worksheet opened early would hold up all others. */
async function fillWorkbook(stream: Writable, job: WorkbookJob): Promise<void> {
  const workbook = new ExcelJS.stream.xlsx.WorkbookWriter({
    stream,
    useStyles: true,
    useSharedStrings: true,
  });
  workbook.creator = job.programLine;
  workbook.lastModifiedBy = job.programLine;
  workbook.created = new Date(job.bundle.asOf);
  workbook.modified = workbook.created;
  await writeResultsSheet(workbook, job);
  await writeRowsSheet(workbook, job);
  await writeCalibrationsSheet(workbook, job);
  await writeCertificatesSheet(workbook, job);
  await writeAmendmentsSheet(workbook, job);
  await writeAboutSheet(workbook, job, cautionsOf(job, statisticsAreLive(job)));
  await workbook.commit();
}

/** Rows of the worksheet Rows that must be found again: the heading and every specimen row. */
async function checkWorkbook(path: string, job: WorkbookJob): Promise<void> {
  const parts = await checkZip(path, "<row ");
  const position = Object.values(WORKSHEETS).indexOf(WORKSHEETS.rows) + 1;
  const rows = parts.find((part) => part.name === `xl/worksheets/sheet${position}.xml`);
  const sheets = parts.filter((part) => part.name.startsWith("xl/worksheets/sheet"));
  if (sheets.length !== Object.keys(WORKSHEETS).length || rows?.hits !== job.survey.rows + 1) {
    throw new Error(
      `The workbook was written with ${rows?.hits ?? 0} lines on Rows instead of ${job.survey.rows + 1}.`,
    );
  }
}

/**
 * Writes the workbook of a sheet so that under `path` there is either the earlier file or the whole new one. Memory
 * stays bounded by the number of sizes (two numbers each) and of different texts, not by the cells.
 * @throws Error (of the file system, or when what was read back differs); the earlier file is then untouched
 */
export async function writeWorkbook(
  bundle: SheetBundle,
  kind: WorkbookKind,
  path: string,
): Promise<WrittenWorkbook> {
  const job = await jobOf(bundle, kind);
  const bytes = await writeFileWhole(
    path,
    (stream) => fillWorkbook(stream, job),
    (temporary) => checkWorkbook(temporary, job),
  );
  return { bytes, dataSha256: job.survey.dataSha256 };
}
