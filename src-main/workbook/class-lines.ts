import { objectClassTable } from "#core/methods/class-tables.ts";
import { reportString } from "#core/methods/report-string.ts";
import { text } from "./cell.ts";
import type { WorkbookJob } from "./job.ts";
import type { SheetWriter } from "./sheet-writer.ts";
import { shownLabel } from "./statistics-cells.ts";
import { classKey } from "./survey.ts";

/** How many rows of each label fell into each class of the method's tables. */
export function writeClasses(sheet: SheetWriter, job: WorkbookJob, last: number): void {
  const { classes, dimensions, derived } = job.bundle.method.definition;
  for (const { of, tableId } of classes) {
    const name = [...dimensions, ...derived].find((one) => one.key === of)?.name ?? of;
    const table = objectClassTable(tableId);
    sheet.row([text(`${name}: classes`, "heading")]);
    for (const label of [null, ...job.survey.labels.keys()]) {
      const words = classWords(job, of, tableId, label);
      if (words === "") continue;
      sheet.spread(
        [text(shownLabel(label), label === null ? "field" : "text"), text(words, "wrapped")],
        2,
        last,
      );
    }
    if (table)
      sheet.spread(
        [text("Table"), text(`${table.name}: ${table.source} (${table.standing})`, "wrapped")],
        2,
        last,
      );
    sheet.skip();
  }
}

/** `prolate 12, subprolate 3`, the most frequent first. */
export function classWords(
  job: Pick<WorkbookJob, "survey">,
  of: string,
  tableId: string,
  label: string | null,
): string {
  const counts = [...(job.survey.classCounts.get(classKey(of, tableId, label)) ?? [])];
  return counts
    .sort((a, b) => b[1] - a[1])
    .map(([words, count]) => `${words} ${count}`)
    .join(", ");
}

/** The report string of each label, as the method wants it. */
export function reportStrings(
  job: Pick<WorkbookJob, "survey" | "bundle">,
): { label: string; text: string }[] {
  return [...job.survey.reported].flatMap(([label, objects]) => {
    const words = reportString(objects, job.bundle.method.definition);
    return words === null ? [] : [{ label, text: words }];
  });
}

export function writeReportStrings(sheet: SheetWriter, job: WorkbookJob, last: number): void {
  const strings = reportStrings(job);
  if (strings.length === 0) return;
  sheet.row([text("In words, as exported", "heading")]);
  for (const { label, text: words } of strings) {
    sheet.spread([text(shownLabel(label)), text(words, "wrapped")], 2, last);
  }
  sheet.skip();
}
