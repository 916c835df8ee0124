import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { instant, number, text } from "../spreadsheet/cell.ts";
import { openSheet } from "../spreadsheet/sheet-writer.ts";
import type { WorkbookJob } from "./job.ts";

export const CONTENTS = "Contents";

const CONTENTS_HEADINGS = [
  "Sheet",
  "sample",
  "customer",
  "method",
  "rows",
  "struck",
  "All records, SHA-256",
] as const;

const WIDTHS = [12, 30, 22, 30, 8, 8, 36];

/** The first page of a workbook of several sheets: which they are, and the digest of each. */
export async function writeContentsSheet(workbook: BookWriter, jobs: readonly WorkbookJob[]): Promise<void> {
  const first = jobs[0];
  if (first === undefined) return;
  const sheet = openSheet(
    workbook,
    {
      name: CONTENTS,
      widths: WIDTHS,
      frozenRows: 1,
      frozenColumns: 0,
      titleRows: "1:1",
      landscape: true,
      footer: jobs.map((job) => job.bundle.sheet.number).join(", "),
      programLine: first.programLine,
    },
    first,
  );
  sheet.row([text("Sheets of this workbook", "title")]);
  sheet.row([text("Made (UTC)", "field"), instant(first.bundle.asOf)]);
  sheet.skip();
  sheet.row(CONTENTS_HEADINGS.map((heading) => text(heading, "column")));
  for (const { bundle, survey } of jobs) {
    sheet.row([
      text(bundle.sheet.number),
      text(bundle.sheet.sample, "wrapped"),
      text(bundle.sheet.customer ?? "", "wrapped"),
      text(`${bundle.method.definition.name}, version ${bundle.method.version}`, "wrapped"),
      number(survey.rows, "whole"),
      number(survey.struck, "whole"),
      text(survey.dataSha256, "wrapped"),
    ]);
  }
  await sheet.finish();
}
