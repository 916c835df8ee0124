import { unitOfDerived } from "#core/measurement/derived-kind.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { reportWithUncertainty } from "#core/quantity/rounding.ts";
import { arrayFormula, type Cell, EMPTY, formula, number, text, textFormula } from "../spreadsheet/cell.ts";
import { columnLetters } from "../spreadsheet/sheet-writer.ts";
import type { LookName } from "../spreadsheet/styles.ts";
import { STATISTICS_HEADINGS as H } from "../words/headings.ts";
import { derivedColumn, unitWords } from "./derived-columns.ts";
import { inFormula, type WorkbookJob } from "./job.ts";
import {
  type CountedSizes,
  type LabelStatistics,
  labelStatistics,
  type PercentileShares,
} from "./label-statistics.ts";
import { coverageCell } from "./row-columns.ts";

/** In the order of the report; behind them what the uncertainty of the mean is made of. */
const KEYS = [
  "label",
  "n",
  "reported",
  "k",
  "s",
  "variation",
  "least",
  "lower",
  "median",
  "upper",
  "greatest",
  "from",
  "to",
  "mean",
  "factorPart",
  "u",
  "nu",
  "U",
] as const;
type Key = (typeof KEYS)[number];

/** So many columns of Results are printed; workings stand behind them. */
export const PRINTED_COLUMNS = KEYS.indexOf("to") + 1;

/** Per cent as typed in the method, as shares; 10 and 90 where they cannot be read. */
export function percentileShares(job: Pick<WorkbookJob, "bundle">): PercentileShares {
  const { type, lower, upper } = job.bundle.method.definition.percentiles;
  const share = (typed: string): number => readDecimal("percentile", typed).value.div(100).toNumber();
  return { type, lower: share(lower), upper: share(upper) };
}

/** A column of Rows that statistics are made of: sizes of a dimension, or values of a derived quantity. */
export interface StatisticsSource {
  readonly key: string;
  readonly name: string;
  readonly unit: string;
  /** 1-based columns of the values and of the part of u that rows share. */
  readonly values: number;
  readonly parts: number;
  /** The shared doubt of the edges is added; of derived quantities it is in their shared part already. */
  readonly addsEdges: boolean;
  readonly look: LookName;
}

/** The method's dimensions, then its derived quantities. */
export function statisticsSources(job: WorkbookJob): StatisticsSource[] {
  const { dimensions, derived } = job.bundle.method.definition;
  const sizes = dimensions.map(
    ({ key, name }, index): StatisticsSource => ({
      key,
      name,
      unit: "µm",
      values: job.layout.column(index, "size"),
      parts: job.layout.column(index, "factorPart"),
      addsEdges: true,
      look: "micrometres",
    }),
  );
  const quantities = derived.map(
    (one, at): StatisticsSource => ({
      key: one.key,
      name: one.name,
      unit: unitOfDerived(one),
      values: derivedColumn(job, at, "value"),
      parts: derivedColumn(job, at, "common"),
      addsEdges: false,
      look: "derived",
    }),
  );
  return [...sizes, ...quantities];
}

export function statisticsHeadings(job: WorkbookJob, unit: string): string[] {
  const { lower, upper } = job.bundle.method.definition.percentiles;
  const um = (words: string): string => `${words}${unitWords(unit)}`;
  return [
    H.label,
    H.n,
    um(H.reported),
    H.k,
    um(H.s),
    H.variation,
    um(H.least),
    um(H.lower(lower)),
    um(H.median),
    um(H.upper(upper)),
    um(H.greatest),
    um(H.intervalFrom),
    um(H.intervalTo),
    um(H.mean),
    um(H.factorPart),
    um(H.u),
    H.nu,
    um(H.U),
  ];
}

/** Which rows a line of statistics is about: all that count, or those of one label. */
export interface StatisticsGroup {
  readonly label: string | null;
  readonly counted: CountedSizes;
}

/** A column of Rows as formulas write it. */
export function rangeOf(column: number, job: WorkbookJob): string {
  const letters = columnLetters(column);
  return `${inFormula(job.names.worksheets.rows)}!$${letters}$2:$${letters}$${job.survey.rows + 1}`;
}

/**
 * 1 for each row that counts, else 0, as an array inside SUMPRODUCT. EXACT compares labels letter by letter: criteria
 * of COUNTIFS would read a label such as `>5` or `*` as a rule.
 */
export function condition(label: string | null, sizes: string, line: number, job: WorkbookJob): string {
  const kept = `(${rangeOf(3, job)}="")*ISNUMBER(${sizes})`;
  if (label === null) return kept;
  const labels = rangeOf(2, job);
  return label === "" ? `(${labels}="")*${kept}` : `EXACT(${labels},$A${line})*${kept}`;
}

/** `25.31 ± 0.42`, or why there is none. */
export function shownMean(
  statistics: LabelStatistics,
  job: Pick<WorkbookJob, "bundle">,
  on: "workbook" | "paper" = "workbook",
): string {
  if (statistics.mean === null) return "no size";
  if (statistics.U === null) return on === "paper" ? "one specimen: no mean" : "one specimen (Rows)";
  const reported = reportWithUncertainty(
    decimal(statistics.mean),
    decimal(statistics.U),
    job.bundle.method.definition.rounding,
  );
  return `${reported.value} ± ${reported.uncertainty}`;
}

/** The statistics of one group, with what its mean shares. */
export function statisticsOf(
  group: StatisticsGroup,
  source: Pick<StatisticsSource, "addsEdges">,
  job: Pick<WorkbookJob, "bundle" | "numbers">,
  factorInverseNu: number,
): LabelStatistics {
  return labelStatistics(group.counted, {
    edges: source.addsEdges ? job.numbers.sharedEdgeU : 0,
    edgesInverseNu: job.numbers.edgeInverseNu,
    factorInverseNu,
    coverage: job.bundle.method.definition.coverage,
    percentiles: percentileShares(job),
  });
}

/** Where a number of a line of statistics stands, e.g. `C12`. */
export function statisticsPlace(key: Key, line: number): string {
  return `${columnLetters(KEYS.indexOf(key) + 1)}${line}`;
}

/**
 * The percentile of values that an array holds, text where a row does not count; a position outside the sample gives its
 * least or greatest value.
 * @param percent as typed in the method
 * @param n the cell with their number
 */
export function percentileFormula(percent: string, values: string, n: string, type: 6 | 7): string {
  const share = readDecimal("percentile", percent).value.div(100).toString();
  if (type === 7) return `IF(${n}=0,"",PERCENTILE(${values},${share}))`;
  const place = `${share}*(${n}+1)`;
  return (
    `IF(${n}=0,"",IF(${place}<=1,MIN(${values}),IF(${place}>=${n},MAX(${values}),` +
    `_xlfn.PERCENTILE.EXC(${values},${share}))))`
  );
}

interface Line {
  readonly result: LabelStatistics;
  readonly sizes: string;
  readonly parts: string;
  readonly counts: string;
  readonly line: number;
  readonly live: boolean;
  readonly job: WorkbookJob;
  readonly source: StatisticsSource;
}

function plainCell(look: LookName, expression: string, value: number | null, live: boolean): Cell {
  if (!live) return number(value, look);
  return value === null ? textFormula(expression, "", look) : formula(expression, value, look);
}

function uncertaintyLook({ look }: StatisticsSource): LookName {
  return look === "derived" ? look : "uncertainty";
}

function orderCells({ result, sizes, counts, line, live, job, source }: Line): Partial<Record<Key, Cell>> {
  const { type, lower, upper } = job.bundle.method.definition.percentiles;
  const percentile = (typed: string, value: number | null): Cell =>
    live
      ? arrayFormula(
          percentileFormula(typed, `IF(${counts},${sizes},"")`, statisticsPlace("n", line), type),
          value,
          source.look,
        )
      : number(value, source.look);
  // Rows that do not count are moved out of reach; adding 0·1E300 leaves the others untouched.
  const far = `(1-${counts})*1E300`;
  const some = (expression: string): string => `IF(${statisticsPlace("n", line)}=0,"",${expression})`;
  return {
    least: plainCell(source.look, some(`SUMPRODUCT(MIN(${sizes}+${far}))`), result.min, live),
    lower: percentile(lower, result.lower),
    median: percentile("50", result.median),
    upper: percentile(upper, result.upper),
    greatest: plainCell(source.look, some(`SUMPRODUCT(MAX(${sizes}-${far}))`), result.max, live),
  };
}

function scatterCells({ result, sizes, counts, line, live, source }: Line): Partial<Record<Key, Cell>> {
  const [n, mean, s] = [
    statisticsPlace("n", line),
    statisticsPlace("mean", line),
    statisticsPlace("s", line),
  ];
  const several = (expression: string): string => `IF(${n}<2,"",${expression})`;
  const half = `TINV(0.05,${n}-1)*${s}/SQRT(${n})`;
  return {
    n: plainCell("whole", `SUMPRODUCT(${counts})`, result.n, live),
    mean: plainCell(source.look, `IF(${n}=0,"",SUMPRODUCT(${counts}*${sizes})/${n})`, result.mean, live),
    s: plainCell(
      uncertaintyLook(source),
      several(`SQRT(SUMPRODUCT(${counts}*(${sizes}-${mean})^2)/(${n}-1))`),
      result.s,
      live,
    ),
    variation: plainCell(
      "freedom",
      several(`IF(${mean}=0,"",100*${s}/ABS(${mean}))`),
      result.variation,
      live,
    ),
    from: plainCell(source.look, several(`${mean}-${half}`), result.from, live),
    to: plainCell(source.look, several(`${mean}+${half}`), result.to, live),
  };
}

function doubtCells({ result, parts, counts, line, live, job, source }: Line): Partial<Record<Key, Cell>> {
  const M = job.names.method;
  const [n, s, f, u, nu] = [
    statisticsPlace("n", line),
    statisticsPlace("s", line),
    statisticsPlace("factorPart", line),
    statisticsPlace("u", line),
    statisticsPlace("nu", line),
  ];
  const edges = source.addsEdges ? M.sharedEdgeU : "0";
  const weight = `((${s}^2/${n})^2/(${n}-1)+${f}^4*${job.names.worstInverseNu}+${edges}^4*${M.edgeInverseNu})`;
  const several = (expression: string): string => `IF(${n}<2,"",${expression})`;
  const freedom = several(`IF(${weight}=0,"infinite",${u}^4/${weight})`);
  const infinite = result.u !== null && result.nu === null;
  const coverage = several(coverageCell(nu, 2, job).formula ?? "2");
  return {
    factorPart: plainCell(
      uncertaintyLook(source),
      `IF(${n}=0,"",SUMPRODUCT(${counts}*${parts})/${n})`,
      result.factorPart,
      live,
    ),
    u: plainCell(uncertaintyLook(source), several(`SQRT(${s}^2/${n}+${f}^2+${edges}^2)`), result.u, live),
    nu: infinite
      ? live
        ? textFormula(freedom, "infinite", "freedom")
        : text("infinite")
      : plainCell("freedom", freedom, result.nu, live),
    k: plainCell("coverage", coverage, result.k, live),
    U: plainCell(uncertaintyLook(source), several(`${statisticsPlace("k", line)}*${u}`), result.U, live),
  };
}

/** One line of the statistics table. `live` is false where formulas would make the workbook slow to open. */
export function statisticsCells(
  group: StatisticsGroup,
  source: StatisticsSource,
  line: number,
  live: boolean,
  job: WorkbookJob,
  factorInverseNu: number,
): Cell[] {
  const result = statisticsOf(group, source, job, factorInverseNu);
  const sizes = rangeOf(source.values, job);
  const parts = rangeOf(source.parts, job);
  const counts = condition(group.label, sizes, line, job);
  const all: Line = { result, sizes, parts, counts, line, live, job, source };
  const cells: Partial<Record<Key, Cell>> = {
    label: text(shownLabel(group.label), group.label === null ? "field" : "text"),
    ...scatterCells(all),
    ...orderCells(all),
    ...doubtCells(all),
    reported: text(shownMean(result, job)),
  };
  return KEYS.map((key) => cells[key] ?? EMPTY);
}

/** The label exactly as on Rows, because the formulas compare with it. */
export function shownLabel(label: string | null): string {
  if (label === null) return "All rows that count";
  return label === "" ? "(no label)" : label;
}
