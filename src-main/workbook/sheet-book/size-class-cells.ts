import {
  amountLookedAt,
  amountWords,
  BASIS_WORDS,
  NUMBER_PLACES,
  NUMBER_RULE_WORDS,
  type SizeClassResult,
  sizeClassResults,
} from "#core/counting/results/size-class-results.ts";
import { CONFORMS, DOES_NOT_CONFORM } from "#core/measurement/method-limits.ts";
import {
  countedQuantity,
  readSizeClasses,
  SIZE_PLACES,
  type SizeClass,
} from "#core/measurement/size-classes.ts";
import { type Cell, EMPTY, formula, number, text, textFormula } from "../spreadsheet/cell.ts";
import { quoted } from "../spreadsheet/formula-text.ts";
import type { SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { SIZE_CLASS_HEADINGS as H } from "../words/headings.ts";
import { derivedColumn } from "./derived-columns.ts";
import type { WorkbookJob } from "./job.ts";
import { condition, rangeOf, statisticsSources } from "./statistics-cells.ts";

/** What a method's own limits found on a sheet; null for a method without. */
export function sizeClassesOf(job: Pick<WorkbookJob, "bundle" | "survey">) {
  const { definition } = job.bundle.method;
  const { sizeClasses } = definition;
  if (!sizeClasses) return null;
  const quantity = countedQuantity(sizeClasses, definition);
  const classes = readSizeClasses(sizeClasses, quantity.unit);
  const results = sizeClassResults(sizeClasses, classes, job.survey.sizeTallies, job.bundle.sheet);
  return { sizeClasses, quantity, classes, results };
}

/** 1-based columns of Rows that hold the sizes and their U. */
function columnsOf(of: string, job: WorkbookJob): { readonly values: string; readonly U: string } | null {
  const { dimensions, derived } = job.bundle.method.definition;
  const source = statisticsSources(job).find(({ key }) => key === of);
  if (!source) return null;
  const dimension = dimensions.findIndex(({ key }) => key === of);
  const U =
    dimension >= 0
      ? job.layout.column(dimension, "U")
      : derivedColumn(
          job,
          derived.findIndex(({ key }) => key === of),
          "U",
        );
  return { values: rangeOf(source.values, job), U: rangeOf(U, job) };
}

interface Line {
  readonly at: number;
  /** Address of the amount looked at. */
  readonly amount: string;
  readonly rows: { readonly values: string; readonly U: string } | null;
}

/** How many rows that count fall into the class, and how many lie within their U of a limit of it. */
function countFormulas(
  { at, rows }: Line,
  { below }: SizeClass,
  job: WorkbookJob,
): { n: string; near: string } {
  if (rows === null || job.survey.rows === 0) return { n: "0", near: "0" };
  const counted = condition(null, rows.values, at, job);
  const size = `ROUND(${rows.values},${SIZE_PLACES})`;
  const near = (limit: string): string => `(ABS(${rows.values}-${limit})<${rows.U})`;
  return {
    n: `SUMPRODUCT(${counted}*(${size}>=$E${at})${below === null ? "" : `*(${size}<$F${at})`})`,
    near: `SUMPRODUCT(${counted}*(${near(`$E${at}`)}${below === null ? "" : `+${near(`$F${at}`)}`}>0))`,
  };
}

/** Empty, too, where something was seen: it fills when the last of them is struck. */
function lessThanCell(expression: string, known: SizeClassResult["number"]): Cell {
  if (known === null) return EMPTY;
  return known.lessThan === null
    ? textFormula(expression, "", "derived")
    : formula(expression, known.lessThan, "derived");
}

function lineCells(
  line: Line,
  one: SizeClass,
  found: SizeClassResult,
  job: WorkbookJob,
  rule: string,
): Cell[] {
  const { at, amount } = line;
  const { n, near } = countFormulas(line, one, job);
  const known = found.number;
  const per = (expression: string, cached: number | null): Cell =>
    known === null || cached === null ? EMPTY : formula(expression, cached, "derived");
  const held = rule === "guarded-acceptance" ? `I${at}` : `G${at}`;
  return [
    text(found.words),
    formula(n, found.counted, "whole"),
    found.conforms === null
      ? EMPTY
      : textFormula(
          `IF(ROUND(${held},${NUMBER_PLACES})<=K${at},${quoted(CONFORMS)},${quoted(DOES_NOT_CONFORM)})`,
          found.conforms ? CONFORMS : DOES_NOT_CONFORM,
          "words",
        ),
    formula(near, found.near, "whole"),
    number(one.from.toString(), "given"),
    number(one.below?.toString() ?? null, "given"),
    per(`B${at}/${amount}`, known?.value ?? null),
    per(`IF(B${at}=0,0,CHIINV(0.975,2*MAX(1,B${at}))/2)/${amount}`, known?.lower ?? null),
    per(`CHIINV(0.025,2*B${at}+2)/2/${amount}`, known?.upper ?? null),
    lessThanCell(`IF(B${at}=0,-LN(0.05)/${amount},"")`, known),
    number(one.most?.toString() ?? null, "given"),
  ];
}

/** Containers, volume and part as named on the sheet, and the amount looked at as a formula of them. */
function writeAmount(
  sheet: SheetWriter,
  job: WorkbookJob,
  per: "sheet" | "container" | "mL",
  last: number,
): string {
  const { containers, volume, portion } = job.bundle.sheet;
  const field = (name: string, cell: Cell): number => {
    const at = sheet.nextRow;
    sheet.spread([text(name, "field"), cell], 2, last);
    return at;
  };
  const typed = (value: string | undefined): Cell => number(value ?? null, "given");
  const ofContainers = field(H.containers, typed(containers));
  const ofVolume = field(H.volume, typed(volume));
  const ofPortion = field(H.portion, typed(portion ?? "100"));
  const basis = per === "container" ? ofContainers : ofVolume;
  const amount = amountLookedAt(per, job.bundle.sheet);
  const at = field(
    `${H.amount} ${BASIS_WORDS[per]}`,
    per === "sheet"
      ? number(1, "plainLeft")
      : amount === null
        ? text(H.notNamed)
        : formula(`B${basis}*B${ofPortion}/100`, amount, "plainLeft"),
  );
  return `$B$${at}`;
}

/** Specimens by the method's own limits: live over Rows and over the amount tested, each with its exact interval. */
export function writeSizeClasses(sheet: SheetWriter, job: WorkbookJob, last: number): void {
  const found = sizeClassesOf(job);
  if (found === null) return;
  const { sizeClasses, quantity, classes, results } = found;
  const { per, rule, of, source } = sizeClasses;
  sheet.row([text(`${quantity.name}: ${H.title}`, "heading")]);
  const amount = writeAmount(sheet, job, per, last);
  const unit = quantity.unit === "" ? "" : ` (${quantity.unit})`;
  const basis = BASIS_WORDS[per];
  sheet.row(
    [
      H.class,
      H.n,
      H.conformity,
      H.near,
      `${H.from}${unit}`,
      `${H.below}${unit}`,
      `${H.number} ${basis}`,
      `${H.lower} ${basis}`,
      `${H.upper} ${basis}`,
      `${H.lessThan} ${basis}`,
      `${H.most} ${basis}`,
    ].map((one) => text(one, "column")),
  );
  const rows = columnsOf(of, job);
  classes.forEach((one, at) => {
    const result = results[at];
    if (result) sheet.row(lineCells({ at: sheet.nextRow, amount, rows }, one, result, job, rule));
  });
  const lines = [
    `${amountWords(per, job.bundle.sheet)}.`,
    H.rule,
    ...(classes.some(({ most }) => most !== null) ? [`Decided by ${NUMBER_RULE_WORDS[rule]}.`] : []),
    ...(source === "" ? [] : [`Limits: ${source}`]),
  ];
  for (const line of lines) sheet.spread([text(line, "wrapped")], 1, last);
  sheet.skip();
}
