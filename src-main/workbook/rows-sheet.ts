import type ExcelJS from "exceljs";
import { text } from "./cell.ts";
import { WORKSHEETS, type WorkbookJob } from "./job.ts";
import { dimensionCells, dimensionColumns, FIXED_COLUMNS, fixedCells } from "./row-columns.ts";
import { openSheet } from "./sheet-writer.ts";

/** Every row of the sheet, one line each: what was read, what it was converted with, what came out, live. */
export async function writeRowsSheet(
  workbook: ExcelJS.stream.xlsx.WorkbookWriter,
  job: WorkbookJob,
): Promise<void> {
  const { dimensions } = job.bundle.method.definition;
  const columns = [...FIXED_COLUMNS, ...dimensions.flatMap(dimensionColumns)];
  const sheet = openSheet(
    workbook,
    {
      name: WORKSHEETS.rows,
      widths: columns.map((column) => column.width),
      frozenRows: 1,
      frozenColumns: 2,
      titleRows: "1:1",
      titleColumns: "A:B",
      landscape: true,
      pagesWide: 1 + 2 * dimensions.length,
      footer: job.trace,
      programLine: job.programLine,
    },
    job.kind,
  );
  sheet.row(columns.map((column) => text(column.header, "column")));
  for (const row of job.bundle.rows()) {
    const line = sheet.nextRow;
    const cells = dimensions.flatMap((dimension, index) =>
      dimensionCells(
        row.measurements.find((one) => one.dimension === dimension.key),
        index,
        line,
        job,
      ),
    );
    await sheet.longRow([...fixedCells(row, job), ...cells]);
  }
  await sheet.finish();
}
