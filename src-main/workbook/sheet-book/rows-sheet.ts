import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { text } from "../spreadsheet/cell.ts";
import { columnLetters, openSheet, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { conformityCells } from "./conformity-lines.ts";
import { tailCells } from "./derived-columns.ts";
import { columnsBeforeElsewhere, elsewhereCells, elsewhereColumns } from "./elsewhere-cells.ts";
import type { WorkbookJob } from "./job.ts";
import { dimensionCells, fixedCells } from "./row-columns.ts";

/** Far beyond every reticle: a larger number has a slipped decimal mark. */
const LONGEST_SCALE = 10_000;
const READING_MESSAGE = "A reading is a number of reticle divisions, such as 40.5.";

/** Rules that go on working when somebody changes a reading: what may be typed, and what is marked. */
function addRules(sheet: SheetWriter, job: WorkbookJob): void {
  const last = sheet.nextRow - 1;
  if (last < 2) return;
  const { dimensions } = job.bundle.method.definition;
  const range = (from: number, to = from): string => `${columnLetters(from)}2:${columnLetters(to)}${last}`;
  sheet.mark({ range: range(1, job.layout.columns.length), when: '$C2="struck"', look: "struck" });
  dimensions.forEach((_, index) => {
    const flags = job.layout.column(index, "flags");
    const missing = job.layout.column(index, "missing");
    sheet.mark({ range: range(flags), when: `LEN($${columnLetters(flags)}2)>0`, look: "flagged" });
    sheet.mark({ range: range(missing), when: `LEN($${columnLetters(missing)}2)>0`, look: "missing" });
    for (const key of job.layout.keys) {
      if (!/^(left|right|direct) \d+$/.test(key)) continue;
      sheet.onlyNumbers(range(job.layout.column(index, key)), -LONGEST_SCALE, LONGEST_SCALE, READING_MESSAGE);
    }
  });
}

/** Every row of the sheet, one line each: what was read, what it was converted with, what came out, live. */
export async function writeRowsSheet(workbook: BookWriter, job: WorkbookJob): Promise<void> {
  const { dimensions } = job.bundle.method.definition;
  const columns = [...columnsBeforeElsewhere(job), ...elsewhereColumns(job)];
  const { keys } = job.layout;
  const placed = (wanted: (at: number) => boolean): number[] =>
    dimensions.flatMap((_, index) =>
      keys.flatMap((key, at) => (wanted(at) ? [job.layout.column(index, key)] : [])),
    );
  const sheet = openSheet(
    workbook,
    {
      name: job.names.worksheets.rows,
      widths: columns.map((column) => column.width),
      frozenRows: 1,
      frozenColumns: 2,
      titleRows: "1:1",
      landscape: true,
      begins: placed((at) => at === 0).slice(1),
      follows: placed((at) => keys[at]?.endsWith(" typed") ?? false),
      footer: job.trace,
      programLine: job.programLine,
      countsRows: true,
    },
    job,
  );
  sheet.row(columns.map((column) => text(column.header, "column")));
  for (const row of job.bundle.rows()) {
    const line = sheet.nextRow;
    const cells = dimensions.flatMap((dimension, index) =>
      dimensionCells(row, dimension.key, index, line, job),
    );
    await sheet.longRow([
      ...fixedCells(row, job),
      ...cells,
      ...tailCells(row, line, job),
      ...conformityCells(row, line, job),
      ...elsewhereCells(row, job),
    ]);
  }
  addRules(sheet, job);
  await sheet.finish();
}
