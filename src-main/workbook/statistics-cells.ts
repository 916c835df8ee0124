import { decimal } from "#core/quantity/decimal.ts";
import { reportWithUncertainty } from "#core/quantity/rounding.ts";
import { type Cell, formula, number, text, textFormula } from "./cell.ts";
import { WORKSHEETS, WORST_INVERSE_NU, type WorkbookJob } from "./job.ts";
import { type CountedSizes, type LabelStatistics, labelStatistics } from "./label-statistics.ts";
import { METHOD_NAMES as M } from "./method-cells.ts";
import { coverageCell, partColumn } from "./row-columns.ts";
import { columnLetters } from "./sheet-writer.ts";
import type { LookName } from "./styles.ts";

export const STATISTICS_HEADERS = [
  "Label",
  "n",
  "mean (µm)",
  "s (µm)",
  "min (µm)",
  "max (µm)",
  "u from factor (µm)",
  "u of mean (µm)",
  "ν",
  "k",
  "U of mean (µm)",
  "mean ± U as exported (µm)",
] as const;

const COLUMNS = { n: "B", mean: "C", s: "D", factor: "G", u: "H", nu: "I" } as const;

/** Which rows a line of statistics is about: all that count, or those of one label. */
export interface StatisticsGroup {
  readonly label: string | null;
  readonly counted: CountedSizes;
}

function rangeOf(column: number, job: WorkbookJob): string {
  const letters = columnLetters(column);
  return `${WORKSHEETS.rows}!$${letters}$2:$${letters}$${job.survey.rows + 1}`;
}

/**
 * 1 for each row that counts, else 0, as an array inside SUMPRODUCT. EXACT compares labels letter by letter: criteria
 * of COUNTIFS would read a label such as `>5` or `*` as a rule.
 */
function condition(group: StatisticsGroup, sizes: string, line: number, job: WorkbookJob): string {
  const kept = `(${rangeOf(3, job)}="")*ISNUMBER(${sizes})`;
  if (group.label === null) return kept;
  const labels = rangeOf(2, job);
  return group.label === "" ? `(${labels}="")*${kept}` : `EXACT(${labels},$A${line})*${kept}`;
}

function shown(statistics: LabelStatistics, job: WorkbookJob): string {
  if (statistics.mean === null) return "no size";
  if (statistics.U === null) return "one specimen: see its own U on Rows";
  const reported = reportWithUncertainty(
    decimal(statistics.mean),
    decimal(statistics.U),
    job.bundle.method.definition.rounding,
  );
  return `${reported.value} ± ${reported.uncertainty}`;
}

interface Expressions {
  readonly expression: string;
  readonly value: number | null;
  readonly look: LookName;
}

function cellOf({ expression, value, look }: Expressions, live: boolean): Cell {
  if (!live) return number(value, look);
  return value === null ? textFormula(expression, "", look) : formula(expression, value, look);
}

/** One line of the statistics table. `live` is false where formulas would make the workbook slow to open. */
export function statisticsCells(
  group: StatisticsGroup,
  dimension: number,
  line: number,
  live: boolean,
  job: WorkbookJob,
  factorInverseNu: number,
): Cell[] {
  const { numbers } = job;
  const result = labelStatistics(group.counted, {
    edges: numbers.sharedEdgeU,
    edgesInverseNu: numbers.edgeInverseNu,
    factorInverseNu,
    coverage: job.bundle.method.definition.coverage,
  });
  const sizes = rangeOf(partColumn(dimension, "size (µm)"), job);
  const parts = rangeOf(partColumn(dimension, "u from factor (µm)"), job);
  const counts = condition(group, sizes, line, job);
  const [n, mean, s, f, u, nu] = [
    `${COLUMNS.n}${line}`,
    `${COLUMNS.mean}${line}`,
    `${COLUMNS.s}${line}`,
    `${COLUMNS.factor}${line}`,
    `${COLUMNS.u}${line}`,
    `${COLUMNS.nu}${line}`,
  ];
  const weight = `((${s}^2/${n})^2/(${n}-1)+${f}^4*${WORST_INVERSE_NU}+${M.sharedEdgeU}^4*${M.edgeInverseNu})`;
  // Rows that do not count are moved out of reach; adding 0·1E300 leaves the others untouched.
  const far = `(1-${counts})*1E300`;
  const some = (expression: string): string => `IF(${n}=0,"",${expression})`;
  const several = (expression: string): string => `IF(${n}<2,"",${expression})`;
  const columns: Expressions[] = [
    { expression: `SUMPRODUCT(${counts})`, value: result.n, look: "whole" },
    { expression: some(`SUMPRODUCT(${counts}*${sizes})/${n}`), value: result.mean, look: "micrometres" },
    {
      expression: several(`SQRT(SUMPRODUCT(${counts}*(${sizes}-${mean})^2)/(${n}-1))`),
      value: result.s,
      look: "uncertainty",
    },
    { expression: some(`SUMPRODUCT(MIN(${sizes}+${far}))`), value: result.min, look: "micrometres" },
    { expression: some(`SUMPRODUCT(MAX(${sizes}-${far}))`), value: result.max, look: "micrometres" },
    {
      expression: some(`SUMPRODUCT(${counts}*${parts})/${n}`),
      value: result.factorPart,
      look: "uncertainty",
    },
    {
      expression: several(`SQRT(${s}^2/${n}+${f}^2+${M.sharedEdgeU}^2)`),
      value: result.u,
      look: "uncertainty",
    },
    {
      expression: several(`IF(${weight}=0,"infinite",${u}^4/${weight})`),
      value: result.nu,
      look: "freedom",
    },
  ];
  const infinite = result.u !== null && result.nu === null;
  const cells = columns.map((column) => cellOf(column, live));
  if (infinite)
    cells[7] = live ? textFormula(columns[7]?.expression ?? "", "infinite", "freedom") : text("infinite");
  return [
    text(nameOf(group), group.label === null ? "field" : "text"),
    ...cells,
    ...coverageCells(result, nu, line, live, job),
    text(shown(result, job)),
  ];
}

/** The label exactly as on Rows, because the formulas compare with it. */
function nameOf(group: StatisticsGroup): string {
  if (group.label === null) return "All rows that count";
  return group.label === "" ? "(no label)" : group.label;
}

function coverageCells(
  result: LabelStatistics,
  nu: string,
  line: number,
  live: boolean,
  job: WorkbookJob,
): Cell[] {
  if (result.k === null || result.U === null) {
    if (!live) return [number(null, "coverage"), number(null, "uncertainty")];
    return [
      textFormula(`IF(B${line}<2,"",${coverageExpression(nu, job)})`, "", "coverage"),
      textFormula(`IF(B${line}<2,"",J${line}*H${line})`, "", "uncertainty"),
    ];
  }
  if (!live) return [number(result.k, "coverage"), number(result.U, "uncertainty")];
  return [
    formula(`IF(B${line}<2,"",${coverageExpression(nu, job)})`, result.k, "coverage"),
    formula(`IF(B${line}<2,"",J${line}*H${line})`, result.U, "uncertainty"),
  ];
}

function coverageExpression(nu: string, job: WorkbookJob): string {
  return coverageCell(nu, 2, job).formula ?? "2";
}
