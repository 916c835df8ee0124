import type { MethodDefinition } from "#core/contract/records/method.ts";
import { type ClassRegion, classRegions } from "#core/methods/class-regions.ts";
import type { ClassTable } from "#core/methods/class-table.ts";
import { objectClassTable } from "#core/methods/class-tables.ts";
import { POLLEN_SHAPE_CLASSES } from "#core/methods/pollen-shape-classes.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { number, text } from "../spreadsheet/cell.ts";
import type { SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { CLASS_TABLE_HEADINGS } from "../words/headings.ts";
import type { WorkbookJob } from "./job.ts";

/**
 * Binary numbers beside a limit within this count as on it: their last digits are not ours. Sizes and ratios have at most
 * three figures before the point, so a double still tells such a step.
 */
const ON_LIMIT = decimal("0.00000000005");
/** Below every value; a lookup needs a beginning. */
const BEGINNING = -1e300;

/** The class tables that formulas of a sheet look up, in the order of their numbers. */
export function classTablesOf({ classes, report }: MethodDefinition): ClassTable[] {
  const named = classes.flatMap(({ tableId }) => objectClassTable(tableId) ?? []);
  const all = report.kind === "pollen P and E" ? [...named, POLLEN_SHAPE_CLASSES] : named;
  return [...new Set(all)];
}

/** The words for the value in `cell`, as a formula; the table stands on About. */
export function classFormula(cell: string, table: ClassTable, job: WorkbookJob): string {
  const at = classTablesOf(job.bundle.method.definition).indexOf(table);
  const { from, words } = job.names.classTable(at + 1);
  return `IF(ISNUMBER(${cell}),LOOKUP(${cell},${from},${words}),"")`;
}

function beginOf({ from, opens }: ClassRegion): number {
  if (from === null) return BEGINNING;
  return (opens ? from.plus(ON_LIMIT) : from.minus(ON_LIMIT)).toNumber();
}

function limitWords({ from, opens }: ClassRegion): string {
  if (from === null) return "";
  const shown = from.toSignificantDigits(6).toString();
  return opens ? `above ${shown}` : `from ${shown}`;
}

/** Each table as a rising list: where a class begins, and its words; limits that two classes share are lines too. */
export function writeClassTables(sheet: SheetWriter, job: WorkbookJob, last: number): void {
  classTablesOf(job.bundle.method.definition).forEach((table, index) => {
    const names = job.names.classTable(index + 1);
    sheet.skip();
    sheet.row([text(`${CLASS_TABLE_HEADINGS.title}: ${table.name}`, "heading")]);
    sheet.spread(
      [text(CLASS_TABLE_HEADINGS.source, "field"), text(`${table.source} (${table.standing})`, "wrapped")],
      2,
      last,
    );
    const { words, from, begins } = CLASS_TABLE_HEADINGS;
    sheet.row([words, from, "", begins].map((header) => text(header, "column")));
    const regions = classRegions(table);
    const first = sheet.nextRow;
    const end = first + regions.length - 1;
    sheet.nameRange(first, end, 1, names.words);
    sheet.nameRange(first, end, 2, names.from);
    for (const region of regions) {
      sheet.row([
        text(region.words, "wrapped"),
        number(beginOf(region), "plainLeft"),
        text(""),
        text(limitWords(region)),
      ]);
    }
  });
}
