import type { MethodDimension } from "#core/contract/records/method.ts";
import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { type Cell, EMPTY, formula, instant, number, text, textFormula } from "./cell.ts";
import { factorNames, type WorkbookJob } from "./job.ts";
import { METHOD_NAMES as M } from "./method-cells.ts";
import { columnLetters } from "./sheet-writer.ts";
import { factorPartOf } from "./survey.ts";

export interface RowColumn {
  readonly header: string;
  readonly width: number;
}

/** Columns in front of the dimensions: ordinal, label, struck, and behind them what concerns the whole row. */
export const FIXED_COLUMNS: readonly RowColumn[] = [
  { header: "Row", width: 7 },
  { header: "Label", width: 26 },
  { header: "Struck", width: 10 },
  { header: "Note and reason", width: 34 },
];

const PARTS = [
  ["left (div)", 12],
  ["left as typed", 12],
  ["right (div)", 12],
  ["right as typed", 12],
  ["divisions (div)", 12],
  ["factor (µm/div)", 13],
  ["size (µm)", 12],
  ["u from factor (µm)", 13],
  ["u (µm)", 12],
  ["ν", 12],
  ["k", 12],
  ["U (µm)", 12],
  ["as recorded (µm)", 18],
  ["objective", 38],
  ["calibration", 15],
  ["calibration id", 40],
  ["flags", 34],
  ["why no size", 70],
  ["read at (UTC)", 21],
  ["read by", 24],
] as const;

type Part = (typeof PARTS)[number][0];

/** Columns of one dimension, in order. */
export function dimensionColumns(dimension: MethodDimension): RowColumn[] {
  return PARTS.map(([part, width]) => ({ header: `${dimension.name}: ${part}`, width }));
}

/** 1-based column of a part of the `index`-th dimension. */
export function partColumn(index: number, part: Part): number {
  return FIXED_COLUMNS.length + index * PARTS.length + PARTS.findIndex(([name]) => name === part) + 1;
}

export function fixedCells(row: SpecimenRow, job: WorkbookJob): Cell[] {
  const struck = row.struck;
  const reason =
    struck === null
      ? ""
      : `Struck ${struck.at.slice(0, 10)} by ${job.lookups.person(struck.by)}: ${struck.reason}`;
  return [
    number(row.ordinal, "whole"),
    text(row.label, struck === null ? "text" : "struck"),
    struck === null ? EMPTY : text("struck"),
    text([row.note, reason].filter((part) => part !== "").join("\n"), "wrapped"),
  ];
}

function reading(typed: string | null): Cell[] {
  if (typed === null) return [EMPTY, EMPTY];
  return [number(readDecimal("reading", typed).text, "reading"), text(typed)];
}

/** Cell addresses of one measurement in its row. */
function addresses(index: number, line: number): (part: Part) => string {
  return (part) => `${columnLetters(partColumn(index, part))}${line}`;
}

/**
 * Size and uncertainty as live formulas of the division and factor cells and the conditions on About:
 * size = |D|·f·(1 + κ); u² = (D(1 + κ)u_f)² + (f(1 + κ))²(s² + 2u_r²) + (D f u_κ)² + u_e²; ν by Welch–Satterthwaite
 * (JCGM 100:2008 G.4.1); k from Student's t at ν truncated, or 2; U = k·u.
 */
function sizeCells(measurement: Measurement, index: number, line: number, job: WorkbookJob): Cell[] {
  const { size, divisions, calibrationId } = measurement;
  const calibration = calibrationId === null ? null : job.lookups.calibration(calibrationId);
  const result = calibration?.record.result;
  const part = factorPartOf(measurement, job.lookups, job.numbers);
  if (size === null || divisions === null || calibration === null || !result || part === null) {
    return new Array<Cell>(8).fill(EMPTY);
  }
  const names = factorNames(calibration.number);
  const at = addresses(index, line);
  const [D, f, fu, u, nu, k] = [
    at("divisions (div)"),
    at("factor (µm/div)"),
    at("u from factor (µm)"),
    at("u (µm)"),
    at("ν"),
    at("k"),
  ];
  const scale = `${f}*(1+${M.correction})`;
  const weight =
    `(${fu}^4*${names.inverseNu}+(${scale}*${M.repeatability})^4*${M.repeatabilityInverseNu}` +
    `+${M.edgeU}^4*${M.edgeInverseNu})`;
  const freedom = size.degreesOfFreedom;
  return [
    formula(names.factor, result.factor, "factor"),
    formula(`ABS(${D})*${scale}`, size.value, "micrometres"),
    formula(`ABS(${D}*(1+${M.correction})*${names.u})`, part, "uncertainty"),
    formula(
      `SQRT(${fu}^2+(${scale})^2*(${M.repeatability}^2+2*${M.readingU}^2)+(${D}*${f}*${M.correctionU})^2+${M.edgeU}^2)`,
      size.standardUncertainty,
      "uncertainty",
    ),
    freedom === null
      ? textFormula(`IF(${weight}=0,"infinite",${u}^4/${weight})`, "infinite", "freedom")
      : formula(`IF(${weight}=0,"infinite",${u}^4/${weight})`, freedom, "freedom"),
    coverageCell(nu, size.coverageFactor, job),
    formula(`${k}*${u}`, size.expandedUncertainty, "uncertainty"),
    text(`${size.shownValue} ± ${size.shownUncertainty}`),
  ];
}

/**
 * k for 95 %: Student's t at ν truncated to a whole number, at least 1 (JCGM 100:2008 G.4.1, G.6.4), the normal quantile
 * for infinite ν; 2 where the method says so. Truncated here, because spreadsheets truncate silently anyway.
 */
export function coverageCell(nuAddress: string, cached: number | string, job: WorkbookJob): Cell {
  if (job.bundle.method.definition.coverage === "k2") return number(2, "coverage");
  return formula(
    `IF(ISNUMBER(${nuAddress}),TINV(0.05,MAX(1,MIN(1E9,INT(${nuAddress}+1E-9)))),NORMSINV(0.975))`,
    cached,
    "coverage",
  );
}

/** The cells of one dimension of one row; `line` is the row's number in the worksheet. */
export function dimensionCells(
  measurement: Measurement | undefined,
  index: number,
  line: number,
  job: WorkbookJob,
): Cell[] {
  if (measurement === undefined) return new Array<Cell>(PARTS.length).fill(EMPTY);
  const { lookups } = job;
  const at = addresses(index, line);
  const calibration =
    measurement.calibrationId === null ? null : lookups.calibration(measurement.calibrationId);
  return [
    ...reading(measurement.left),
    ...reading(measurement.right),
    measurement.divisions === null
      ? EMPTY
      : formula(`${at("right (div)")}-${at("left (div)")}`, measurement.divisions, "divisions"),
    ...sizeCells(measurement, index, line, job),
    text(lookups.objective(measurement.trainId)),
    calibration === null ? EMPTY : text(`Calibration ${calibration.number}`),
    calibration === null ? EMPTY : text(calibration.record.id),
    text(measurement.flags.join("; "), "wrapped"),
    text(measurement.missing ?? ""),
    instant(measurement.enteredAt),
    text(lookups.person(measurement.enteredBy)),
  ];
}
