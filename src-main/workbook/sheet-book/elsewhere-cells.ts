import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { typedElsewhere } from "#core/measurement/elsewhere-words.ts";
import { type Cell, EMPTY, formula, number, text, textFormula } from "../spreadsheet/cell.ts";
import type { SheetWriter } from "../spreadsheet/sheet-writer.ts";
import type { LookName } from "../spreadsheet/styles.ts";
import { ELSEWHERE_HEADINGS as H } from "../words/headings.ts";
import { conformityColumns } from "./conformity-lines.ts";
import { tailColumns } from "./derived-columns.ts";
import { numberElsewhere, type SizesOfOrigin } from "./elsewhere-survey.ts";
import type { WorkbookJob } from "./job.ts";
import type { RowColumn } from "./row-layout.ts";
import { rangeOf } from "./statistics-cells.ts";

function nameOf(dimension: string, { bundle }: Pick<WorkbookJob, "bundle">): string {
  return bundle.method.definition.dimensions.find(({ key }) => key === dimension)?.name ?? dimension;
}

/** Every column of Rows in front of those sizes. */
export function columnsBeforeElsewhere(job: WorkbookJob): RowColumn[] {
  return [...job.layout.columns, ...tailColumns(job), ...conformityColumns(job)];
}

/** The last columns of Rows: sizes that were converted elsewhere, and by what; none where no row has one. */
export function elsewhereColumns(job: WorkbookJob): RowColumn[] {
  const { dimensions } = job.survey.elsewhere;
  if (dimensions.length === 0) return [];
  return [
    ...dimensions.map((key) => ({ header: H.size(nameOf(key, job)), width: 16 })),
    { header: H.convertedBy, width: 34 },
  ];
}

export function elsewhereCells(row: SpecimenRow, job: WorkbookJob): Cell[] {
  const { dimensions } = job.survey.elsewhere;
  if (dimensions.length === 0) return [];
  const sizes = dimensions.map((key): Cell => {
    const typed = typedElsewhere(row.elsewhere, key);
    return typed === null ? EMPTY : number(numberElsewhere(typed), "derived");
  });
  return [...sizes, text(row.elsewhere?.convertedBy ?? "", "wrapped")];
}

export interface ElsewhereFigures {
  readonly n: number;
  readonly mean: number;
  /** n − 1 in the denominator; null for a single size. */
  readonly s: number | null;
  readonly least: number;
  readonly greatest: number;
}

/** Plain figures of sizes that nothing is known of but their values: no U, for none came with them. */
export function elsewhereFigures(sizes: readonly number[]): ElsewhereFigures {
  const n = sizes.length;
  const mean = sizes.reduce((sum, one) => sum + one, 0) / n;
  const squares = sizes.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  return {
    n,
    mean,
    s: n < 2 ? null : Math.sqrt(squares / (n - 1)),
    least: sizes.reduce((least, one) => Math.min(least, one), Number.POSITIVE_INFINITY),
    greatest: sizes.reduce((most, one) => Math.max(most, one), Number.NEGATIVE_INFINITY),
  };
}

/** One line in the columns of `ELSEWHERE_HEADINGS`, live over Rows; they are as wide as those of the statistics. */
function lineOf(origin: SizesOfOrigin, line: number, job: WorkbookJob): Cell[] {
  const { dimensions } = job.survey.elsewhere;
  const first = columnsBeforeElsewhere(job).length + 1;
  const sizes = rangeOf(first + dimensions.indexOf(origin.dimension), job);
  const origins = rangeOf(first + dimensions.length, job);
  const counts = `(${rangeOf(3, job)}="")*ISNUMBER(${sizes})*EXACT(${origins},$C${line})`;
  const far = `(1-${counts})*1E300`;
  const [n, mean] = [`$B${line}`, `$I${line}`];
  const { s, ...found } = elsewhereFigures(origin.sizes);
  const some = (expression: string): string => `IF(${n}=0,"",${expression})`;
  const several = (expression: string, value: number | null, look: LookName): Cell =>
    value === null
      ? textFormula(`IF(${n}<2,"",${expression})`, "", look)
      : formula(`IF(${n}<2,"",${expression})`, value, look);
  const scatter = `SQRT(SUMPRODUCT(${counts}*(${sizes}-${mean})^2)/(${n}-1))`;
  const variation = s === null || found.mean === 0 ? null : (100 * s) / Math.abs(found.mean);
  return [
    text(nameOf(origin.dimension, job)),
    formula(`SUMPRODUCT(${counts})`, found.n, "whole"),
    text(origin.convertedBy, "wrapped"),
    text(H.noU),
    several(scatter, s, "uncertainty"),
    several(`IF(${mean}=0,"",100*$E${line}/ABS(${mean}))`, variation, "freedom"),
    formula(some(`SUMPRODUCT(MIN(${sizes}+${far}))`), found.least, "micrometres"),
    formula(some(`SUMPRODUCT(MAX(${sizes}-${far}))`), found.greatest, "micrometres"),
    formula(some(`SUMPRODUCT(${counts}*${sizes})/${n}`), found.mean, "micrometres"),
  ];
}

/** Sizes that were converted elsewhere, apart from all statistics of this sheet. */
export function writeElsewhere(sheet: SheetWriter, job: WorkbookJob, last: number): void {
  const { origins } = job.survey.elsewhere;
  if (origins.length === 0) return;
  sheet.row([text(H.title, "heading")]);
  sheet.spread([text(H.rule, "wrapped")], 1, last);
  sheet.row(H.columns.map((one) => text(one, "column")));
  for (const origin of origins) sheet.row(lineOf(origin, sheet.nextRow, job));
  sheet.skip();
}
