import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { instant, number, text } from "../spreadsheet/cell.ts";
import { openSheet } from "../spreadsheet/sheet-writer.ts";
import { COUNT_WORKSHEETS, type CountJob } from "./count-job.ts";

const HEADINGS = [
  "No.",
  "kind",
  "field",
  "category",
  "objects",
  "at (UTC)",
  "by",
  "strikes no.",
  "struck by no.",
  "measured as row",
  "hash",
] as const;

/** Every press, new field and undo in the order they were made; struck ones stay. */
export async function writeCountSequence(workbook: BookWriter, job: CountJob): Promise<void> {
  const { count, events } = job.bundle;
  const names = new Map(count.categories.map((category) => [category.key, category.name]));
  const sheet = openSheet(
    workbook,
    {
      name: COUNT_WORKSHEETS.sequence,
      widths: [9, 9, 8, 24, 9, 21, 20, 11, 12, 38, 66],
      frozenRows: 1,
      frozenColumns: 1,
      titleRows: "1:1",
      landscape: true,
      footer: job.trace,
      programLine: job.programLine,
      countsRows: true,
    },
    job,
  );
  sheet.row(HEADINGS.map((heading) => text(heading, "column")));
  for (const event of events()) {
    const look = event.struckBy === null ? "text" : "struck";
    await sheet.longRow([
      number(event.sequence, "whole"),
      text(event.kind === "field" ? "new field" : event.kind, look),
      number(event.field, "whole"),
      text(event.category === null ? "" : (names.get(event.category) ?? event.category), look),
      number(event.weight, "plain"),
      instant(event.at),
      text(job.person(event.by)),
      number(event.strikes, "whole"),
      number(event.struckBy, "whole"),
      text(event.rowId ?? ""),
      text(event.hash),
    ]);
  }
  await sheet.finish();
}
