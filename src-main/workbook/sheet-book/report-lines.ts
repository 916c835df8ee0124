import { reportString } from "#core/measurement/report-string.ts";
import { POLLEN_SHAPE_CLASSES } from "#core/methods/pollen-shape-classes.ts";
import { DEFAULT_SPORE_STRING, innerRange } from "#core/methods/spore-string.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { arrayFormula, type Cell, EMPTY, formula, number, text, textFormula } from "../spreadsheet/cell.ts";
import { fixedText, quoted } from "../spreadsheet/formula-text.ts";
import { columnLetters, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { REPORT_HEADINGS as H } from "../words/headings.ts";
import { classFormula } from "./class-table-cells.ts";
import { type WorkbookJob, worstInverseNu } from "./job.ts";
import {
  type PairNumber,
  type PairQuantity,
  pairNumbersOf,
  pairsOf,
  type Stat,
  statOf,
} from "./report-numbers.ts";
import {
  condition,
  PRINTED_COLUMNS,
  percentileFormula,
  rangeOf,
  shownLabel,
  statisticsOf,
  statisticsPlace,
} from "./statistics-cells.ts";

/** Between label and number of a line and the workings, which are not printed. */
const WORKINGS_BEGIN: readonly Cell[] = Array.from({ length: PRINTED_COLUMNS - 2 }, () => EMPTY);

/** Where the statistics of a label stand on Results, by key of the quantity. */
export type StatisticsLines = ReadonlyMap<string, ReadonlyMap<string | null, number>>;

/** U of the mean of the first dimension of a label, µm; null for one specimen alone. */
function uncertaintyOfMean(
  label: string,
  job: Pick<WorkbookJob, "survey" | "bundle" | "numbers" | "lookups">,
): Decimal | null {
  const key = job.bundle.method.definition.dimensions[0]?.key ?? "";
  const counted = job.survey.labels.get(label)?.get(key);
  if (!counted) return null;
  const { U } = statisticsOf({ label, counted }, { addsEdges: true }, job, worstInverseNu(job));
  return U === null ? null : decimal(U);
}

/** The report string of each label, as the method wants it. */
export function reportStrings(
  job: Pick<WorkbookJob, "survey" | "bundle" | "numbers" | "lookups">,
): { label: string; text: string }[] {
  const { definition } = job.bundle.method;
  return [...job.survey.reported].flatMap(([label, objects]) => {
    const expanded = definition.report.kind === "grain size number" ? uncertaintyOfMean(label, job) : null;
    const words = reportString(objects, definition, expanded);
    return words === null ? [] : [{ label, text: words }];
  });
}

/** The cells of one quantity that a string is put together from. */
type CellOf = (stat: Stat) => string;

/** `32.1 ± 2.3 (28.0–36.5)`; one value alone has no s. */
function meanAndRange(cell: CellOf, n: string, places: number, job: WorkbookJob): string {
  const { rounding } = job.bundle.method.definition;
  const shown = (stat: Stat): string => fixedText(cell(stat), places, rounding);
  return `${shown("mean")}&IF(${n}<2,""," ± "&${shown("s")})&" ("&${shown("least")}&"–"&${shown("greatest")}&")"`;
}

/** `name 32.1 ± 2.3 (28.0–36.5) µm, n = 12; …` out of the label's lines of statistics. */
function plainFormula(label: string, lines: StatisticsLines, job: WorkbookJob): string | null {
  const { dimensions, report } = job.bundle.method.definition;
  const parts: string[] = [];
  const counts: string[] = [];
  for (const { key, name } of dimensions) {
    const line = lines.get(key)?.get(label);
    if (line === undefined) return null;
    const n = statisticsPlace("n", line);
    const cell: CellOf = (stat) => statisticsPlace(stat, line);
    const before = counts.length === 0 ? "" : `IF(${counts.join("+")}>0,"; ","")&`;
    const words = `${quoted(`${name} `)}&${meanAndRange(cell, n, report.places, job)}&" µm, n = "&${n}`;
    parts.push(`IF(${n}=0,"",${before}${words})`);
    counts.push(n);
  }
  return parts.join("&");
}

/** `G 6.64 ± 0.18; Intercept, mean 32.0 ± 2.0 µm, n = 400` out of the label's line of statistics (ASTM E112; from memory). */
function grainFormula(label: string, lines: StatisticsLines, job: WorkbookJob): string | null {
  const { dimensions, report, rounding } = job.bundle.method.definition;
  const [first] = dimensions;
  const line = first && lines.get(first.key)?.get(label);
  if (line === undefined) return null;
  const [n, mean, U] = [
    statisticsPlace("n", line),
    statisticsPlace("mean", line),
    statisticsPlace("U", line),
  ];
  const plusMinus = (of: string, places: number): string =>
    `IF(${n}<2,""," ± "&${fixedText(`(${of})`, places, rounding)})`;
  const G = fixedText(`(-6.643856*LOG10(${mean}/1000)-3.288)`, report.ratioPlaces, rounding);
  return (
    `IF(${n}=0,${quoted(H.nothing)},"G "&${G}&${plusMinus(`6.643856/LN(10)*${U}/${mean}`, report.ratioPlaces)}&` +
    `${quoted(`; ${first?.name}, mean `)}&${fixedText(mean, report.places, rounding)}&` +
    `${plusMinus(U, report.places)}&" µm, n = "&${n})`
  );
}

/** Where the numbers of one label stand: its line, the columns by quantity. */
interface PairLine {
  readonly line: number;
  readonly numbers: readonly PairNumber[];
  readonly job: WorkbookJob;
}

const countCell = (line: number): string => `$B${line}`;

function pairCell({ line, numbers }: PairLine, of: PairQuantity): CellOf {
  return (stat) => {
    const at = numbers.findIndex((one) => one.of === of && one.stat === stat);
    return `$${columnLetters(at + PRINTED_COLUMNS + 1)}${line}`;
  };
}

function pollenFormula(place: PairLine): string {
  const { line, job } = place;
  const { places, ratioPlaces } = job.bundle.method.definition.report;
  const n = countCell(line);
  const part = (of: PairQuantity, digits: number): string =>
    meanAndRange(pairCell(place, of), n, digits, job);
  const shape = classFormula(pairCell(place, "ratio")("mean"), POLLEN_SHAPE_CLASSES, job);
  return (
    `"P "&${part("first", places)}&" µm, E "&${part("second", places)}&` +
    `" µm, P/E "&${part("ratio", ratioPlaces)}&", "&${shape}&", n = "&${n}`
  );
}

function sporeFormula(place: PairLine): string {
  const { line, job } = place;
  const { percentiles, report, rounding } = job.bundle.method.definition;
  const range = (of: PairQuantity, places: number): string => {
    const shown = (stat: Stat): string => fixedText(pairCell(place, of)(stat), places, rounding);
    return `"("&${shown("least")}&"–) "&${shown("lower")}&"–"&${shown("upper")}&" (–"&${shown("greatest")}&")"`;
  };
  const tokens: Readonly<Record<string, string>> = {
    L: range("first", report.places),
    W: range("second", report.places),
    Q: range("ratio", report.ratioPlaces),
    Qm: fixedText(pairCell(place, "ratio")("mean"), report.ratioPlaces, rounding),
    n: countCell(line),
    inner: quoted(innerRange(Number(percentiles.lower), Number(percentiles.upper))),
  };
  const parts = DEFAULT_SPORE_STRING.template.split(/\{(\w+)\}/).map((part, at) => {
    if (at % 2 === 0) return part === "" ? null : quoted(part);
    const token = tokens[part];
    if (token === undefined) throw new RangeError(`No formula is known for {${part}} of a report string.`);
    return token;
  });
  return parts.filter((part) => part !== null).join("&");
}

function formulaOf(label: string, place: PairLine, lines: StatisticsLines, job: WorkbookJob): string | null {
  const { kind } = job.bundle.method.definition.report;
  if (kind === "mean and range") return plainFormula(label, lines, job);
  // Percentiles by volume would need every particle compared with every other one.
  if (kind === "particle sizes") return null;
  if (kind === "grain size number") return grainFormula(label, lines, job);
  const words = kind === "pollen P and E" ? pollenFormula(place) : sporeFormula(place);
  return `IF(${countCell(place.line)}=0,${quoted(H.nothing)},${words})`;
}

/** The numbers of one label's pairs, live over Rows: only rows that have both dimensions count. */
function pairCells(label: string, place: PairLine, live: boolean): Cell[] {
  const { line, numbers, job } = place;
  const { definition } = job.bundle.method;
  const [first, second] = [0, 1].map((index) => rangeOf(job.layout.column(index, "size"), job));
  const counts = `${condition(label, first ?? "", line, job)}*ISNUMBER(${second})*(${first}>0)*(${second}>0)`;
  const ranges = { first: first ?? "", second: second ?? "", ratio: `${first}/${second}` };
  const values = pairsOf(job.survey.reported.get(label) ?? [], definition);
  const n = countCell(line);
  const expression = ({ of, stat }: PairNumber): string => {
    const some = `IF(${counts},${ranges[of]},"")`;
    const { type, lower, upper } = definition.percentiles;
    if (stat === "lower" || stat === "upper")
      return percentileFormula(stat === "lower" ? lower : upper, some, n, type);
    if (stat === "s") return `IF(${n}<2,"",STDEV(${some}))`;
    const name = { mean: "AVERAGE", least: "MIN", greatest: "MAX" }[stat];
    return `IF(${n}=0,"",${name}(${some}))`;
  };
  const cellOf = (one: PairNumber): Cell => {
    const value = statOf(values[one.of] as readonly Decimal[], one.stat, definition);
    return live ? arrayFormula(expression(one), value, "derived") : number(value, "derived");
  };
  const all = values.first.length;
  return [
    text(shownLabel(label)),
    live ? formula(`SUMPRODUCT(${counts})`, all, "whole") : number(all, "whole"),
    ...WORKINGS_BEGIN,
    ...numbers.map(cellOf),
  ];
}

function pairHeadings(
  numbers: readonly PairNumber[],
  { dimensions, percentiles }: WorkbookJob["bundle"]["method"]["definition"],
): string[] {
  const [first, second] = dimensions.map((one) => one.name);
  const names = { first: `${first}`, second: `${second}`, ratio: `${first}/${second}` };
  return [
    H.label,
    H.n,
    ...WORKINGS_BEGIN.map(() => ""),
    ...numbers.map(({ of, stat }) => {
      const what = stat === "lower" || stat === "upper" ? H.percentile(percentiles[stat]) : H[stat];
      return `${names[of]}: ${what}${of === "ratio" ? "" : " (µm)"}`;
    }),
  ];
}

/**
 * The report string of each label as a formula over the numbers it is made of, which stand beneath or in the statistics
 * above. Where the statistics per label are values, because formulas would be slow, the strings are values too and the
 * heading says so.
 */
export function writeReportStrings(
  sheet: SheetWriter,
  lines: StatisticsLines,
  live: boolean,
  job: WorkbookJob,
  last: number,
): void {
  const strings = reportStrings(job);
  if (strings.length === 0) return;
  const { definition } = job.bundle.method;
  const numbers = pairNumbersOf(definition.report.kind);
  const alive = (label: string): boolean => live && job.survey.labels.has(label);
  const formulas = live && definition.report.kind !== "particle sizes";
  sheet.row([text(formulas ? H.title : H.titleOfValues, "heading")]);
  // The numbers follow the strings: an empty row and their headings lie between.
  const firstLine = sheet.nextRow + strings.length + 2;
  strings.forEach(({ label, text: words }, index) => {
    const place = { line: firstLine + index, numbers, job };
    const expression = alive(label) ? formulaOf(label, place, lines, job) : null;
    const cell = expression === null ? text(words, "wrapped") : textFormula(expression, words, "words");
    sheet.spread([text(shownLabel(label)), cell], 2, last);
  });
  sheet.skip();
  if (numbers.length === 0) return;
  sheet.row(
    pairHeadings(numbers, definition).map((header) => (header === "" ? EMPTY : text(header, "column"))),
  );
  for (const { label } of strings) {
    sheet.row(pairCells(label, { line: sheet.nextRow, numbers, job }, alive(label)));
  }
  sheet.skip();
}
