import type { CountCategory } from "#core/contract/records/count-method.ts";
import type { DensityRecord } from "#core/contract/records/count-results.ts";
import { limitsTitle } from "#core/counting/densities/reported-density.ts";
import { keysOfKind, objectsIn } from "#core/counting/inputs/field-counts.ts";
import { evidenceOfFields } from "#core/counting/intervals/count-evidence.ts";
import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { type Cell, formula, number, text, textFormula } from "../spreadsheet/cell.ts";
import { openSheet, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { hasBiovolumes } from "./count-biovolume-report.ts";
import { COUNT_WORKSHEETS, type CountJob } from "./count-job.ts";
import { perObjectCells } from "./count-per-object-cells.ts";

const WIDTHS = [26, 12, 11, 11, 11, 12, 7, 11, 12, 12, 14];
const LAST = WIDTHS.length;
const LIMITS_FROM = "limits from";
const HEADINGS = [
  "of",
  "objects",
  "unit",
  "basis",
  "relative u of the count",
  "density",
  "k",
  "U",
  LIMITS_FROM,
  "to",
  "as exported",
] as const;

/** Column letters of the table, as its formulas use them. */
const OBJECTS = "B";
const BASIS = "D";
const COUNT_U = "E";
const DENSITY = "F";
const COVERAGE = "G";

const NORMAL_95 = "NORMSINV(0.975)";

function nullable(expression: string, cached: string | null): Cell {
  return cached === null ? textFormula(expression, "", "plain") : formula(expression, cached, "plain");
}

/** The evidence of a count in objects, as expressions: Garwood's limits, or the scatter between fields. */
interface Evidence {
  readonly basis: Cell;
  readonly standard: string;
  readonly lower: string;
  readonly upper: string;
}

/** Whether the fields cluster: the test as a formula, or what the exact test for a few objects found. */
function clusteredIn(
  range: string,
  category: CountCategory | "total",
  objects: number,
  job: CountJob,
): string {
  const { count, fields } = job.bundle;
  if (job.countedFields >= 10 || objects / job.countedFields >= 1) {
    return `CHIDIST(DEVSQ(${range})/AVERAGE(${range}),fields_counted-1)<0.025`;
  }
  const keys = category === "total" ? keysOfKind(count.categories, "object") : [category.key];
  const counts = fields.slice(0, job.usedFields).map((field) => objectsIn(field, keys));
  return evidenceOfFields(counts).poissonSuppressed ? "TRUE" : "FALSE";
}

/**
 * Garwood's limits of the count in a cell. CHIINV cuts its degrees of freedom to a whole number, so a count that is not
 * whole or a half goes by the gamma distribution, which is the same.
 */
function garwoodIn(cell: string, objects: number): { lower: string; upper: string } {
  return Number.isInteger(2 * objects)
    ? { lower: `IF(${cell}=0,0,CHIINV(0.975,2*${cell})/2)`, upper: `CHIINV(0.025,2*${cell}+2)/2` }
    : { lower: `GAMMAINV(0.025,${cell},1)`, upper: `GAMMAINV(0.975,${cell}+1,1)` };
}

/** Limits of objects over marker spores, times the markers: Wilson's of the objects' share p, as p/(1 − p). */
function besideMarkers(c: string): Pick<Evidence, "lower" | "upper"> {
  const z2 = `${NORMAL_95}^2`;
  const all = `(${c}+marker_counted)`;
  const root = `${NORMAL_95}*SQRT(${z2}+4*${c}*(1-${c}/${all}))`;
  const share = (sign: "+" | "-") => `((2*${c}+${z2}${sign}${root})/(2*(${all}+${z2})))`;
  const objects = (sign: "+" | "-") => `marker_counted*${share(sign)}/(1-${share(sign)})`;
  return { lower: `IF(${c}=0,0,${objects("-")})`, upper: objects("+") };
}

/** What `skewedLimits` adds where the fields differ more than chance allows: 0 above, and `otherwise` below, where not. */
function skewCells(
  range: string,
  c: string,
  half: string,
  job: CountJob,
): { readonly lower: (otherwise: string) => string; readonly upper: string } {
  if (job.countRule !== "skewed-limits") return { lower: (otherwise) => otherwise, upper: "0" };
  const differ = `VAR(${range})>AVERAGE(${range})`;
  const stretched = `${c}*EXP(${half}/${c}*SQRT(fields_counted/(fields_counted-1)))`;
  return {
    lower: (otherwise) => `IF(${differ},${c}*EXP(-${half}/${c}),${otherwise})`,
    upper: `IF(AND(${differ},fields_counted>2),${stretched},0)`,
  };
}

function evidenceOf(
  category: CountCategory | "total",
  at: number,
  record: DensityRecord,
  objects: number,
  job: CountJob,
): Evidence {
  const range = job.rangeOf(category);
  const c = `${OBJECTS}${at}`;
  const exact = garwoodIn(c, objects);
  if (!job.scatterCounts) {
    const isMarker = job.bundle.method.definition.density.kind === "marker";
    const limits = isMarker && job.countRule === "skewed-limits" ? besideMarkers(c) : exact;
    return { basis: text(record.basis), standard: `SQRT(${c})`, ...limits };
  }
  const older = job.countRule === "clustered-only";
  const s = `STDEV(${range})*SQRT(fields_counted)`;
  const half = `TINV(0.05,fields_counted-1)*${s}`;
  const clustered = clusteredIn(range, category, objects, job);
  const larger = older ? "FALSE" : `${half}>${NORMAL_95}*SQRT(${c})`;
  const by = (between: string, other: string) => `IF(${BASIS}${at}="between-fields",${between},${other})`;
  const basis = `IF(${c}=0,"poisson",IF(${clustered},"between-fields",IF(${larger},"between-fields","poisson")))`;
  const whereClustered = (between: string, other: string) =>
    `IF(${c}=0,${other},IF(${clustered},${between},${other}))`;
  const skew = skewCells(range, c, half, job);
  const wider = older
    ? exact
    : {
        lower: `IF(${c}=0,0,IF(${c}>${half},MIN(${c}-${half},${exact.lower}),MIN(${exact.lower},${skew.lower(exact.lower)})))`,
        upper: `IF(${c}=0,${exact.upper},MAX(${c}+${half},${exact.upper},${skew.upper}))`,
      };
  return {
    basis: textFormula(basis, record.basis, "text"),
    standard: by(s, `SQRT(${c})`),
    lower: whereClustered(`IF(${c}>${half},${c}-${half},${skew.lower("0")})`, wider.lower),
    upper: whereClustered(`MAX(${c}+${half},${skew.upper})`, wider.upper),
  };
}

/** k by Student's t for ν_eff, where only the scatter between fields, `own`, has finite ν: n − 1. */
function coverageCell(at: number, record: DensityRecord, own: string, all: string, job: CountJob): Cell {
  if (job.countRule === "clustered-only") return number(2, "coverage");
  if (!job.scatterCounts || record.relative === null)
    return formula(NORMAL_95, record.coverageFactor, "coverage");
  const nu = `(${all})^2*(fields_counted-1)/(${own})^4`;
  const t = `TINV(0.05,MAX(1,MIN(1E9,INT(${nu}+1E-9))))`;
  return formula(
    `IF(AND(${BASIS}${at}="between-fields",${OBJECTS}${at}>0),${t},${NORMAL_95})`,
    record.coverageFactor,
    "coverage",
  );
}

/** Relative doubt of what was counted, the blank's with it. */
function countUncertainty({ components }: DensityRecord): string | null {
  const own = components.filter(({ key }) => key === "count" || key === "blank");
  return own.length === 0 ? null : String(Math.hypot(...own.map(({ relative }) => Number(relative))));
}

function densityRow(
  sheet: SheetWriter,
  record: DensityRecord,
  category: CountCategory | "total",
  job: CountJob,
): void {
  const at = sheet.nextRow;
  const objects = Number(record.value) / Number(record.perObject);
  const evidence = evidenceOf(category, at, record, objects, job);
  const own = `${COUNT_U}${at}`;
  const all = `${own}^2+u_other^2`;
  if (hasBiovolumes(job)) {
    const place = job.bundle.results.densities.indexOf(record) + 1;
    sheet.nameCell(at, 4, `basis_${place}`);
    sheet.nameCell(at, 5, `count_u_${place}`);
    sheet.nameCell(at, 6, `density_${place}`);
  }
  sheet.row([
    text(category === "total" ? "total" : category.name, "field"),
    formula(`SUM(${job.rangeOf(category)})`, Number(objects.toPrecision(15)), "plain"),
    text(record.unit),
    evidence.basis,
    nullable(`IF(${OBJECTS}${at}=0,"",${evidence.standard}/${OBJECTS}${at})`, countUncertainty(record)),
    formula(`${OBJECTS}${at}*per_object`, record.value, "plain"),
    coverageCell(at, record, own, all, job),
    nullable(`IF(${OBJECTS}${at}=0,"",${COVERAGE}${at}*${DENSITY}${at}*SQRT(${all}))`, record.expanded),
    formula(`(${evidence.lower})*per_object`, record.lower, "plain"),
    formula(`(${evidence.upper})*per_object`, record.upper, "plain"),
    text(record.class === null ? record.shown : `${record.shown}; class ${record.class}`, "wrapped"),
  ]);
}

/** Fibres: the blank is taken off the count, so the density is not proportional to it. */
function fibreRow(sheet: SheetWriter, record: DensityRecord, job: CountJob): void {
  const at = sheet.nextRow;
  const total = Number(job.bundle.results.total);
  const scale = record.unit === "fibres/cc" ? "per_field*per_loading" : "per_field";
  const evidence = evidenceOf("total", at, record, total, job);
  const net = (objects: string) => `MAX(0,${objects}/fields_counted-blank)*${scale}`;
  const c = `${OBJECTS}${at}`;
  const ofCount = job.countRule === "clustered-only" ? `SQRT(${c})` : evidence.standard;
  const netPerField = `(${c}/fields_counted-blank)`;
  const own = `(${ofCount}/fields_counted/${netPerField})`;
  const variance = `(${ofCount}/fields_counted)^2+IF(in_blankFields>0,in_blankCount/in_blankFields^2,0)`;
  const other = record.unit === "fibres/cc" ? "u_other" : "SQRT(MAX(0,u_other^2-u_airVolume^2))";
  const all = `${COUNT_U}${at}^2+${other}^2`;
  sheet.row([
    text("total", "field"),
    formula(`SUM(${job.rangeOf("total")})`, job.bundle.results.total, "plain"),
    text(record.unit),
    evidence.basis,
    nullable(`IF(${netPerField}<=0,"",SQRT(${variance})/${netPerField})`, countUncertainty(record)),
    formula(`${netPerField}*${scale}`, record.value, "plain"),
    coverageCell(at, record, own, all, job),
    nullable(`IF(${netPerField}<=0,"",${COVERAGE}${at}*${DENSITY}${at}*SQRT(${all}))`, record.expanded),
    formula(net(`(${evidence.lower})`), record.lower, "plain"),
    formula(net(`(${evidence.upper})`), record.upper, "plain"),
    text(record.shown, "wrapped"),
  ]);
}

function writeLines(sheet: SheetWriter, job: CountJob): void {
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
export async function writeCountDensities(workbook: BookWriter, job: CountJob): Promise<void> {
  const { results, count, method } = job.bundle;
  const sheet = openSheet(
    workbook,
    {
      name: COUNT_WORKSHEETS.densities,
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
  sheet.row([text(`Densities of ${count.number}`, "title")]);
  if (results.densities.length === 0) {
    sheet.row([text(results.missing ?? "This method has no density.", "wrapped")]);
    await sheet.finish();
    return;
  }
  writeLines(sheet, job);
  sheet.skip();
  const from = `${limitsTitle(results)}, from`;
  sheet.row(HEADINGS.map((heading) => text(heading === LIMITS_FROM ? from : heading, "column")));
  for (const record of results.densities) {
    if (method.definition.density.kind === "fibres") fibreRow(sheet, record, job);
    else {
      const category = count.categories.find((one) => one.key === record.of) ?? "total";
      densityRow(sheet, record, category, job);
    }
  }
  sheet.skip();
  sheet.spread([text("Method of the density", "field"), text(method.definition.source, "wrapped")], 2, LAST);
  await sheet.finish();
}
