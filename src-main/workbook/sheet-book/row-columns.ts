import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import { type CompleteReading, completeReadings, isInParts, readingsOf } from "#core/measurement/readings.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { byWeight, type FlagKey } from "#core/vocabulary/flag.ts";
import { type Cell, EMPTY, formula, instant, number, text, textFormula } from "../spreadsheet/cell.ts";
import { columnLetters } from "../spreadsheet/sheet-writer.ts";
import type { WorkbookJob } from "./job.ts";
import type { ColumnKey } from "./row-layout.ts";
import { factorPartOf } from "./survey.ts";

type Cells = Partial<Record<ColumnKey, Cell>>;
type Address = (key: ColumnKey) => string;

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

function readingCells(measurement: Measurement): Cells {
  const cells: Cells = {};
  for (const reading of readingsOf(measurement)) {
    for (const what of ["left", "right", "direct"] as const) {
      const typed = reading[what];
      if (typed === null) continue;
      cells[`${what} ${reading.number}`] = number(readDecimal("reading", typed).text, "reading");
      cells[`${what} ${reading.number} typed`] = text(typed);
    }
  }
  return cells;
}

/** Divisions of one reading from its cells, with its sign. */
function lengthOf(reading: CompleteReading, measurement: Measurement, at: Address): string {
  if (measurement.entry === "direct") return at(`direct ${reading.number}`);
  return `${at(`right ${reading.number}`)}-${at(`left ${reading.number}`)}`;
}

/** Divisions: right − left of one reading; of several the mean of their lengths, with their number and spread; of parts
 * the sum of their lengths, with their number. */
function divisionCells(measurement: Measurement, at: Address, job: WorkbookJob): Cells {
  const complete = completeReadings(readingsOf(measurement));
  const first = complete[0];
  if (measurement.divisions === null || first === undefined) return {};
  if (complete.length === 1) {
    return {
      readings: number(1, "whole"),
      divisions: formula(lengthOf(first, measurement, at), measurement.divisions, "divisions"),
    };
  }
  if (isInParts(job.bundle.method.definition, measurement.dimension)) {
    const parts = complete.map((one) => `ABS(${lengthOf(one, measurement, at)})`).join("+");
    return {
      readings: number(complete.length, "whole"),
      divisions: formula(parts, measurement.divisions, "divisions"),
    };
  }
  const lengths = complete.map((one) => `ABS(${lengthOf(one, measurement, at)})`).join(",");
  return {
    readings: number(complete.length, "whole"),
    spread: formula(`STDEV(${lengths})`, spreadOf(complete), "uncertainty"),
    divisions: formula(`AVERAGE(${lengths})`, measurement.divisions, "divisions"),
  };
}

/** s of the lengths of several readings, divisor n − 1, div. */
function spreadOf(complete: readonly CompleteReading[]): number {
  const lengths = complete.map(({ left, right }) => right.minus(left).abs().toNumber());
  const mean = lengths.reduce((sum, one) => sum + one, 0) / lengths.length;
  return Math.sqrt(lengths.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (lengths.length - 1));
}

/** u² of the mean reading over f²(1 + κ)², and 1/ν of it: the larger of the method's s and the spread found. Of m parts,
 * read once each, it is m·s². */
export function repeatability(
  measurement: Measurement,
  at: Address,
  job: WorkbookJob,
): { square: string; inverseNu: string } {
  const M = job.names.method;
  const n = completeReadings(readingsOf(measurement)).length;
  if (n < 2) return { square: `${M.repeatability}^2`, inverseNu: M.repeatabilityInverseNu };
  if (isInParts(job.bundle.method.definition, measurement.dimension)) {
    return { square: `${at("readings")}*${M.repeatability}^2`, inverseNu: M.repeatabilityInverseNu };
  }
  const s = at("spread");
  return {
    square: `MAX(${M.repeatability},${s})^2/${at("readings")}`,
    inverseNu: `IF(${M.repeatability}>${s},${M.repeatabilityInverseNu},1/(${at("readings")}-1))`,
  };
}

/**
 * Size and uncertainty as live formulas of the division and factor cells and the conditions on About:
 * size = |D|·f·(1 + κ); u² = (D(1 + κ)u_f)² + (f(1 + κ))²(s²/n + 2u_r²) + (D f u_κ)² + u_e²; ν by Welch–Satterthwaite
 * (JCGM 100:2008 G.4.1); k from Student's t at ν truncated, or 2; U = k·u. Of m parts m·(s² + 2u_r²) stands in place of
 * s²/n + 2u_r².
 */
function sizeCells(measurement: Measurement, at: Address, job: WorkbookJob): Cells {
  const { size, divisions, calibrationId } = measurement;
  const calibration = calibrationId === null ? null : job.lookups.calibration(calibrationId);
  const result = calibration?.record.result;
  const part = factorPartOf(measurement, job.lookups, job.numbers);
  if (size === null || divisions === null || calibration === null || !result || part === null) return {};
  const names = job.names.factor(calibration.number);
  const M = job.names.method;
  const [D, f, fu, u] = [at("divisions"), at("factor"), at("factorPart"), at("u")];
  const scale = `${f}*(1+${M.correction})`;
  const repeats = repeatability(measurement, at, job);
  const isChain =
    isInParts(job.bundle.method.definition, measurement.dimension) &&
    completeReadings(readingsOf(measurement)).length > 1;
  const ends = isChain ? `2*${at("readings")}` : "2";
  const weight =
    `(${fu}^4*${names.inverseNu}+(${scale})^4*(${repeats.square})^2*${repeats.inverseNu}` +
    `+${M.edgeU}^4*${M.edgeInverseNu})`;
  const freedom = size.degreesOfFreedom;
  const nu = `IF(${weight}=0,"infinite",${u}^4/${weight})`;
  return {
    factor: formula(names.factor, result.factor, "factor"),
    size: formula(`ABS(${D})*${scale}`, size.value, "micrometres"),
    factorPart: formula(`ABS(${D}*(1+${M.correction})*${names.u})`, part, "uncertainty"),
    u: formula(
      `SQRT(${fu}^2+(${scale})^2*(${repeats.square}+${ends}*${M.readingU}^2)+(${D}*${f}*${M.correctionU})^2+${M.edgeU}^2)`,
      size.standardUncertainty,
      "uncertainty",
    ),
    nu: freedom === null ? textFormula(nu, "infinite", "freedom") : formula(nu, freedom, "freedom"),
    k: coverageCell(at("nu"), size.coverageFactor, job),
    U: formula(`${at("k")}*${u}`, size.expandedUncertainty, "uncertainty"),
    recorded: text(`${size.shownValue} ± ${size.shownUncertainty}`),
  };
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

/** What was stored with the value, and whether it lies apart from the rest of its label. */
function flagsOf(row: SpecimenRow, measurement: Measurement, job: WorkbookJob): readonly FlagKey[] {
  const { flags } = measurement;
  return byWeight(job.survey.apart.has(row, measurement) ? [...flags, "outside-sheet"] : flags);
}

function originCells(row: SpecimenRow, measurement: Measurement, job: WorkbookJob): Cells {
  const { lookups } = job;
  const calibration =
    measurement.calibrationId === null ? null : lookups.calibration(measurement.calibrationId);
  return {
    objective: text(lookups.objective(measurement.trainId)),
    ...(calibration === null
      ? {}
      : {
          calibration: text(`Calibration ${calibration.number}`),
          calibrationId: text(calibration.record.id),
        }),
    flags: text(flagsOf(row, measurement, job).join("; "), "wrapped"),
    missing: text(measurement.missing ?? ""),
    readAt: instant(measurement.enteredAt),
    readBy: text(lookups.person(measurement.enteredBy)),
  };
}

/** The cells of one dimension of one row; `line` is the row's number in the worksheet. */
export function dimensionCells(
  row: SpecimenRow,
  dimension: string,
  index: number,
  line: number,
  job: WorkbookJob,
): Cell[] {
  const { keys } = job.layout;
  const measurement = row.measurements.find((one) => one.dimension === dimension);
  if (measurement === undefined) return new Array<Cell>(keys.length).fill(EMPTY);
  const at: Address = (key) => `${columnLetters(job.layout.column(index, key))}${line}`;
  const cells: Cells = {
    ...readingCells(measurement),
    ...divisionCells(measurement, at, job),
    ...sizeCells(measurement, at, job),
    ...originCells(row, measurement, job),
  };
  return keys.map((key) => cells[key] ?? EMPTY);
}
