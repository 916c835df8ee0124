import type { TrailLine } from "#core/contract/records/trail.ts";
import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { EMPTY, instant, number, text } from "../spreadsheet/cell.ts";
import { openSheet } from "../spreadsheet/sheet-writer.ts";
import { AMENDMENT_HEADINGS } from "../words/headings.ts";
import type { WorkbookJob } from "./job.ts";

const WIDTHS: Readonly<Record<keyof typeof AMENDMENT_HEADINGS, number>> = {
  line: 10,
  at: 19,
  by: 20,
  act: 20,
  row: 7,
  of: 18,
  reason: 34,
  changed: 46,
  hash: 66,
};

/**
 * What was changed after it had been entered: what, from, to, who, when, why; first act by act, then each result that a
 * re-evaluation converted.
 */
export async function writeAmendmentsSheet(workbook: BookWriter, job: WorkbookJob): Promise<void> {
  const sheet = openSheet(
    workbook,
    {
      name: job.names.worksheets.amendments,
      widths: Object.values(WIDTHS),
      frozenRows: 1,
      frozenColumns: 1,
      titleRows: "1:1",
      landscape: true,
      footer: job.trace,
      programLine: job.programLine,
    },
    job,
  );
  sheet.row(Object.values(AMENDMENT_HEADINGS).map((header) => text(header, "column")));
  let written = 0;
  async function write(line: TrailLine, ordinal: number | undefined): Promise<void> {
    written += 1;
    await sheet.longRow([
      number(line.sequence, "whole"),
      instant(line.at),
      text(job.lookups.person(line.personId)),
      text(line.act),
      ordinal === undefined ? EMPTY : number(ordinal, "whole"),
      text(line.subject),
      text(line.reason ?? "", "wrapped"),
      text(line.detail, "wrapped"),
      text(line.hash),
    ]);
  }
  for (const line of job.bundle.amendments) await write(line, job.survey.ordinals.get(line.subjectId));
  for (const { line, ordinal } of job.bundle.reevaluated?.() ?? []) await write(line, ordinal);
  if (written === 0) sheet.row([EMPTY, text("none")]);
  await sheet.finish();
}
