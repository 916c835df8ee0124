import type { CountCategory } from "#core/contract/records/count-method.ts";
import type { DensityRecord } from "#core/contract/records/tally-results.ts";
import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { type Cell, formula, number, text, textFormula } from "../spreadsheet/cell.ts";
import { openSheet, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { TALLY_WORKSHEETS, type TallyJob } from "./tally-job.ts";
import { perObjectCells } from "./tally-per-object-cells.ts";

const WIDTHS = [26, 13, 11, 11, 12, 12, 12, 12, 12, 14];
const LAST = WIDTHS.length;
const HEADINGS = [
  "of",
  "objects",
  "unit",
  "basis",
  "relative u of the count",
  "density",
  "U (k = 2)",
  "count alone, from",
  "to",
  "as exported",
] as const;

/** Column letters of the table, as its formulas use them. */
const OBJECTS = "B";
const BASIS = "D";
const COUNT_U = "E";
const DENSITY = "F";

function nullable(expression: string, cached: string | null): Cell {
  return cached === null ? textFormula(expression, "", "plain") : formula(expression, cached, "plain");
}

/** `between-fields` when the dispersion test of these fields finds clusters; the exact test for few is not a formula. */
function basisCell(range: string, job: TallyJob, record: DensityRecord, at: number): Cell {
  const fields = job.countedFields;
  const mean = Number(record.value) / Number(record.perObject) / fields;
  const bySquares = fields >= 10 || mean >= 1;
  if (!job.scatterCounts || !bySquares) return text(record.basis);
  const clustered = `CHIDIST(DEVSQ(${range})/AVERAGE(${range}),fields_counted-1)<0.025`;
  const expression = `IF(${OBJECTS}${at}=0,"poisson",IF(${clustered},"between-fields","poisson"))`;
  return textFormula(expression, record.basis, "text");
}

interface Evidence {
  readonly standard: string;
  readonly lower: string;
  readonly upper: string;
}

/** The evidence of the count in objects, as formulas: Garwood's limits or the scatter between fields. */
function evidenceFormulas(range: string, at: number, scatterCounts: boolean): Evidence {
  const c = `${OBJECTS}${at}`;
  const poisson: Evidence = {
    standard: `SQRT(${c})`,
    lower: `IF(${c}=0,0,CHIINV(0.975,2*${c})/2)`,
    upper: `CHIINV(0.025,2*${c}+2)/2`,
  };
  if (!scatterCounts) return poisson;
  const s = `STDEV(${range})*SQRT(fields_counted)`;
  const half = `TINV(0.05,fields_counted-1)*${s}`;
  const by = (between: string, other: string) => `IF(${BASIS}${at}="between-fields",${between},${other})`;
  return {
    standard: by(s, poisson.standard),
    lower: by(`MAX(0,${c}-${half})`, poisson.lower),
    upper: by(`${c}+${half}`, poisson.upper),
  };
}

function countDoubt(record: DensityRecord): string | null {
  return record.components.find((one) => one.key === "count")?.relative ?? null;
}

function densityRow(
  sheet: SheetWriter,
  record: DensityRecord,
  category: CountCategory | "total",
  job: TallyJob,
): void {
  const at = sheet.nextRow;
  const range = job.rangeOf(category);
  const evidence = evidenceFormulas(range, at, job.scatterCounts);
  const objects = Number(record.value) / Number(record.perObject);
  sheet.row([
    text(category === "total" ? "total" : category.name, "field"),
    formula(`SUM(${range})`, Number(objects.toPrecision(15)), "plain"),
    text(record.unit),
    basisCell(range, job, record, at),
    nullable(`IF(${OBJECTS}${at}=0,"",${evidence.standard}/${OBJECTS}${at})`, countDoubt(record)),
    formula(`${OBJECTS}${at}*per_object`, record.value, "plain"),
    nullable(`IF(${OBJECTS}${at}=0,"",2*${DENSITY}${at}*SQRT(${COUNT_U}${at}^2+u_other^2))`, record.expanded),
    formula(`(${evidence.lower})*per_object`, record.lower, "plain"),
    formula(`(${evidence.upper})*per_object`, record.upper, "plain"),
    text(record.class === null ? record.shown : `${record.shown}; class ${record.class}`, "wrapped"),
  ]);
}

/** Fibres: the blank is taken off the count, so the density is not proportional to it. */
function fibreRow(sheet: SheetWriter, record: DensityRecord, job: TallyJob): void {
  const at = sheet.nextRow;
  const range = job.rangeOf("total");
  const scale = record.unit === "fibres/cc" ? "per_field*per_loading" : "per_field";
  const evidence = evidenceFormulas(range, at, job.scatterCounts);
  const net = (objects: string) => `MAX(0,${objects}/fields_counted-blank)*${scale}`;
  const c = `${OBJECTS}${at}`;
  const variance = `${c}/fields_counted^2+IF(in_blankFields>0,in_blankCount/in_blankFields^2,0)`;
  const other = record.unit === "fibres/cc" ? "u_other" : "SQRT(MAX(0,u_other^2-u_airVolume^2))";
  const netPerField = `(${c}/fields_counted-blank)`;
  sheet.row([
    text("total", "field"),
    formula(`SUM(${range})`, job.bundle.results.total, "plain"),
    text(record.unit),
    basisCell(range, job, record, at),
    nullable(`IF(${netPerField}<=0,"",SQRT(${variance})/${netPerField})`, countDoubt(record)),
    formula(`${netPerField}*${scale}`, record.value, "plain"),
    nullable(
      `IF(${netPerField}<=0,"",2*${DENSITY}${at}*SQRT(${COUNT_U}${at}^2+${other}^2))`,
      record.expanded,
    ),
    formula(net(`(${evidence.lower})`), record.lower, "plain"),
    formula(net(`(${evidence.upper})`), record.upper, "plain"),
    text(record.shown, "wrapped"),
  ]);
}

function writeLines(sheet: SheetWriter, job: TallyJob): void {
  sheet.row(["Inputs and steps", "value", "unit", "note"].map((heading) => text(heading, "column")));
  for (const line of perObjectCells(job).lines.lines) {
    sheet.nameCell(sheet.nextRow, 2, line.name);
    sheet.row([
      text(line.words, "field"),
      line.formula === null ? number(line.value, "given") : formula(line.formula, line.value, "plain"),
      text(line.unit),
      text(line.note),
    ]);
  }
}

/** From inputs, factor and fields to every density, as formulas a reviewer can follow and change. */
export async function writeTallyDensities(workbook: BookWriter, job: TallyJob): Promise<void> {
  const { results, tally, method } = job.bundle;
  const sheet = openSheet(
    workbook,
    {
      name: TALLY_WORKSHEETS.densities,
      widths: WIDTHS,
      frozenRows: 1,
      frozenColumns: 1,
      titleRows: "1:1",
      landscape: true,
      footer: job.trace,
      programLine: job.programLine,
    },
    job,
  );
  sheet.row([text(`Densities of ${tally.number}`, "title")]);
  if (results.densities.length === 0) {
    sheet.row([text(results.missing ?? "This method has no density.", "wrapped")]);
    await sheet.finish();
    return;
  }
  writeLines(sheet, job);
  sheet.skip();
  sheet.row(HEADINGS.map((heading) => text(heading, "column")));
  for (const record of results.densities) {
    if (method.definition.density.kind === "fibres") fibreRow(sheet, record, job);
    else {
      const category = tally.categories.find((one) => one.key === record.of) ?? "total";
      densityRow(sheet, record, category, job);
    }
  }
  sheet.skip();
  sheet.spread([text("Method of the density", "field"), text(method.definition.source, "wrapped")], 2, LAST);
  await sheet.finish();
}
