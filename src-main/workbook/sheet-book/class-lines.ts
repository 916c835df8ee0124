import type { ClassTable } from "#core/methods/class-table.ts";
import { objectClassTable } from "#core/methods/class-tables.ts";
import { type Cell, formula, number, text } from "../spreadsheet/cell.ts";
import { quoted } from "../spreadsheet/formula-text.ts";
import { columnLetters, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { CLASS_COUNT_HEADINGS as H } from "../words/headings.ts";
import { derivedColumn } from "./derived-columns.ts";
import type { WorkbookJob } from "./job.ts";
import {
  condition,
  rangeOf,
  type StatisticsSource,
  shownLabel,
  statisticsSources,
} from "./statistics-cells.ts";
import { classKey } from "./survey.ts";

/** 1-based column of Rows that holds the words of the `index`-th classified quantity. */
function classColumn(job: WorkbookJob, index: number): number {
  return derivedColumn(job, job.results.derivations.length, "value") + index;
}

interface Block {
  readonly source: StatisticsSource;
  readonly table: ClassTable;
  readonly index: number;
  readonly job: WorkbookJob;
}

/** How many rows of a label, null: of all, fell into each class: n, each class in the order of its table, the others. */
function countCells(
  { source, table, index, job }: Block,
  label: string | null,
  line: number,
  live: boolean,
): Cell[] {
  const counts =
    job.survey.classCounts.get(classKey(source.key, table.id, label)) ?? new Map<string, number>();
  const counted = condition(label, rangeOf(source.values, job), line, job);
  const words = rangeOf(classColumn(job, index), job);
  const cell = (expression: string, count: number): Cell =>
    live ? formula(expression, count, "whole") : number(count, "whole");
  const all = [...counts.values()].reduce((sum, one) => sum + one, 0);
  const classes = table.classes.map(({ name }) =>
    cell(`SUMPRODUCT(${counted}*(${words}=${quoted(name)}))`, counts.get(name) ?? 0),
  );
  const inClasses = table.classes.reduce((sum, { name }) => sum + (counts.get(name) ?? 0), 0);
  const lastClass = columnLetters(2 + table.classes.length);
  return [
    cell(`SUMPRODUCT(${counted})`, all),
    ...classes,
    cell(`B${line}-SUM(C${line}:${lastClass}${line})`, all - inClasses),
  ];
}

/** How many rows of each label fell into each class of the method's tables, live over Rows. */
export function writeClasses(sheet: SheetWriter, live: boolean, job: WorkbookJob, last: number): void {
  job.bundle.method.definition.classes.forEach(({ of, tableId }, index) => {
    const table = objectClassTable(tableId);
    const source = statisticsSources(job).find((one) => one.key === of);
    if (table === null || source === undefined) return;
    const block = { source, table, index, job };
    sheet.row([text(`${source.name}: ${H.title}`, "heading")]);
    sheet.row(
      [H.label, H.n, ...table.classes.map((one) => one.name), H.others].map((one) => text(one, "column")),
    );
    for (const label of [null, ...job.survey.labels.keys()]) {
      const alive = job.survey.rows > 0 && (label === null || live);
      sheet.row([
        text(shownLabel(label), label === null ? "field" : "text"),
        ...countCells(block, label, sheet.nextRow, alive),
      ]);
    }
    sheet.spread(
      [text(H.table), text(`${table.name}: ${table.source} (${table.standing})`, "wrapped")],
      2,
      last,
    );
    sheet.skip();
  });
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
