import { createWriteStream, writeFileSync } from "node:fs";
import ExcelJS from "exceljs";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { dimensionCells, fixedCells } from "#main/workbook/sheet-book/row-columns.ts";
import type { SheetBundle } from "#main/workbook/sheet-book/sheet-bundle-type.ts";
import { jobOf, writeJobWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { type Cell, text, writtenValue } from "#main/workbook/spreadsheet/cell.ts";
import { columnLetters } from "#main/workbook/spreadsheet/sheet-writer.ts";
import { LOOKS } from "#main/workbook/spreadsheet/styles.ts";
import { bundleOf, type ExampleRow } from "../workbook/example-bundle.ts";

/**
 * One measurement of the export bench in a process of its own: `program`, `bare` (exceljs writing the same cells of
 * Rows, styles and shared texts included, and nothing else) or `cells` (the same cells as JSON lines for another
 * writer). Prints milliseconds and the peak of resident memory in MiB.
 */
const [what = "", count = "1000", path = ""] = process.argv.slice(2);
const rows = Number(count);

/** Invented inputs: a fixed pattern of readings, repeated; labels of a pollen count. */
const PATTERN: readonly ExampleRow[] = Array.from({ length: 1000 }, (_, i) => ({
  label: ["Calluna", "Tilia", "Brassica", "Trifolium"][i % 4] ?? "",
  readings: { d: [`${i % 20}.5`, `${30 + ((i * 7) % 40)}.${i % 10}`, i % 5 === 0 ? "cal40" : "cal10"] },
  ...(i % 97 === 0 ? { struck: "squashed" } : {}),
}));

function longBundle(): SheetBundle {
  const bundle = bundleOf({ rows: PATTERN });
  const pattern = [...bundle.rows()];
  function* repeated(): Generator<SpecimenRow> {
    for (let at = 0; at < rows; at += 1) {
      const row = pattern[at % pattern.length];
      if (row) yield { ...row, id: `row${at + 1}`, ordinal: at + 1 };
    }
  }
  return { ...bundle, rows: repeated };
}

const bundle = longBundle();

async function cellsOfRows(): Promise<Cell[][]> {
  const job = await jobOf(bundle, { kind: "live" });
  const all = [job.layout.columns.map((column) => text(column.header, "column"))];
  for (const row of bundle.rows()) {
    all.push([
      ...fixedCells(row, job),
      ...dimensionCells(row, row.measurements[0]?.dimension ?? "", 0, all.length + 1, job),
    ]);
  }
  return all;
}

async function writeBare(all: readonly Cell[][]): Promise<void> {
  const workbook = new ExcelJS.stream.xlsx.WorkbookWriter({
    stream: createWriteStream(path),
    useStyles: true,
    useSharedStrings: true,
  });
  const sheet = workbook.addWorksheet("Rows");
  all.forEach((cells, at) => {
    const line = sheet.getRow(at + 1);
    cells.forEach((cell, column) => {
      if (cell.value === null) return;
      const target = line.getCell(column + 1);
      target.value = writtenValue(cell, "live", () => `${columnLetters(column + 1)}${at + 1}`);
      target.style = LOOKS[cell.look];
    });
    line.commit();
  });
  sheet.commit();
  await workbook.commit();
}

function asJson({ value, formula }: Cell): unknown {
  if (formula !== null) return `=${formula}`;
  return value instanceof Date ? { date: value.toISOString() } : value;
}

let started = performance.now();
if (what === "program") await writeJobWorkbook([bundle], { kind: "live" }, path);
else {
  const cells = await cellsOfRows();
  started = performance.now();
  if (what === "bare") await writeBare(cells);
  else writeFileSync(path, cells.map((line) => JSON.stringify(line.map(asJson))).join("\n"));
}
const took = performance.now() - started;
console.log(JSON.stringify({ took, peak: process.resourceUsage().maxRSS / 1024 }));
