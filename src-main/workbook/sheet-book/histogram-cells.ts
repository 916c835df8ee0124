import { formula, number, text, textFormula } from "../spreadsheet/cell.ts";
import type { SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { HISTOGRAM_HEADINGS as H } from "../words/headings.ts";
import { unitWords } from "./derived-columns.ts";
import { HISTOGRAM_PLACES, histogramOf } from "./histogram-classes.ts";
import type { WorkbookJob } from "./job.ts";
import { condition, rangeOf, type StatisticsSource } from "./statistics-cells.ts";

const BAR = "█";
const LONGEST_BAR = 40;

function barOf(count: number, most: number): string {
  return BAR.repeat(Math.round((LONGEST_BAR * count) / most));
}

/** A picture of the sizes that count, drawn with characters so that it follows the readings and prints everywhere. */
export function writeHistogram(
  sheet: SheetWriter,
  source: StatisticsSource,
  values: readonly number[],
  lastColumn: number,
  job: WorkbookJob,
): void {
  const bars = histogramOf(values);
  if (bars.length === 0) return;
  const sizes = rangeOf(source.values, job);
  const unit = unitWords(source.unit);
  const counts = condition(null, sizes, 0, job);
  const most = bars.reduce((greatest, bar) => Math.max(greatest, bar.count), 0);
  const from = sheet.nextRow + 1;
  const to = from + bars.length - 1;
  sheet.row(
    [`${source.name}: ${H.from}${unit}`, `${H.below}${unit}`, H.rows, H.bar].map((header) =>
      text(header, "column"),
    ),
  );
  for (const bar of bars) {
    const at = sheet.nextRow;
    const inside = `(ROUND(${sizes},${HISTOGRAM_PLACES})>=$A${at})*(ROUND(${sizes},${HISTOGRAM_PLACES})<$B${at})`;
    sheet.spread(
      [
        number(bar.from, "plainLeft"),
        number(bar.to, "plainLeft"),
        formula(`SUMPRODUCT(${counts}*${inside})`, bar.count, "whole"),
        textFormula(
          `REPT("${BAR}",ROUND(${LONGEST_BAR}*C${at}/MAX(1,MAX(C$${from}:C$${to})),0))`,
          barOf(bar.count, most),
          "bar",
        ),
      ],
      4,
      lastColumn,
    );
  }
  sheet.skip();
}
