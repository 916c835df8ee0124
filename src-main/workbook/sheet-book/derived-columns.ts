import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { unitOfDerived } from "#core/measurement/derived-kind.ts";
import { objectClassTable } from "#core/methods/class-tables.ts";
import { type Cell, EMPTY, formula, text, textFormula } from "../spreadsheet/cell.ts";
import { pictureCells } from "../spreadsheet/picture-cells.ts";
import { columnLetters } from "../spreadsheet/sheet-writer.ts";
import { DERIVED_HEADINGS as H } from "../words/headings.ts";
import { classFormula } from "./class-table-cells.ts";
import type { WorkbookJob } from "./job.ts";
import { coverageCell, repeatability } from "./row-columns.ts";
import type { RowColumn } from "./row-layout.ts";
import type { RowResult } from "./row-results.ts";

const FIXED = ["value", "common", "u", "nu", "k", "U", "recorded", "missing"] as const;
type Fixed = (typeof FIXED)[number];

/** ` (µm²)`; nothing for a pure number. */
export function unitWords(unit: string): string {
  return unit === "1" ? "" : ` (${unit})`;
}

/** 1-based column of a part of the `at`-th derived quantity; a number stands for its sensitivity to that dimension. */
export function derivedColumn(job: WorkbookJob, at: number, part: Fixed | number): number {
  const { derivations } = job.results;
  const before = derivations.slice(0, at).reduce((sum, one) => sum + FIXED.length + one.dimensions.length, 0);
  const offset = typeof part === "number" ? FIXED.length + part : FIXED.indexOf(part);
  return job.layout.columns.length + before + offset + 1;
}

/** Columns behind the dimensions: derived quantities, classes, and where the specimen lies. */
export function tailColumns(job: WorkbookJob): RowColumn[] {
  const { derived, classes, dimensions } = job.bundle.method.definition;
  const nameOf = (key: string): string =>
    [...dimensions, ...derived].find((one) => one.key === key)?.name ?? key;
  const quantities = derived.flatMap((one, at): RowColumn[] => {
    const { name } = one;
    const unit = unitWords(unitOfDerived(one));
    const fixed = FIXED.map((part) => ({
      header: `${name}: ${part === "nu" || part === "k" || part === "missing" ? H[part] : H[part] + unit}`,
      width: part === "recorded" ? 20 : part === "missing" ? 34 : 13,
    }));
    const sensitivities = (job.results.derivations[at]?.dimensions ?? []).map((dimension) => ({
      header: `${name}: ${H.sensitivity(nameOf(dimension))}`,
      width: 13,
    }));
    return [...fixed, ...sensitivities];
  });
  const tables = classes.map(({ of, tableId }) => ({
    header: H.classOf(nameOf(of), objectClassTable(tableId)?.name ?? tableId),
    width: 28,
  }));
  const { stage, square } = job.survey.readings;
  const places = [...(stage ? [H.stageX, H.stageY] : []), ...(square ? [H.square] : [])];
  const pictures = job.pictures.size > 0 ? [H.pictures, H.pictureHashes] : [];
  return [
    ...quantities,
    ...tables,
    ...places.map((header) => ({ header, width: 12 })),
    ...pictures.map((header) => ({ header, width: header === H.pictures ? 30 : 66 })),
  ];
}

interface Place {
  readonly row: SpecimenRow;
  readonly at: number;
  readonly line: number;
  readonly job: WorkbookJob;
}

/** Degrees of freedom beyond all that could be observed: infinite. */
const ENDLESS = 1e15;

/** The formulas of u and ν: shared parts with their signs, everything else independent (JCGM 100:2008 5.2.2, G.4.1). */
function doubtFormulas({ row, at, line, job }: Place): { common: string; u: string; weight: string } {
  const M = job.names.method;
  const { dimensions } = job.bundle.method.definition;
  const here = (part: Fixed | number): string => `${columnLetters(derivedColumn(job, at, part))}${line}`;
  const groups = new Map<string, string[]>();
  const own: string[] = [];
  const ownWeights: string[] = [];
  (job.results.derivations[at]?.dimensions ?? []).forEach((key, index) => {
    const position = dimensions.findIndex((one) => one.key === key);
    const cell = (part: "u" | "factorPart" | "factor" | "readings" | "spread"): string =>
      `${columnLetters(job.layout.column(position, part))}${line}`;
    const measurement = row.measurements.find((one) => one.dimension === key);
    if (measurement === undefined) return;
    const calibration = job.lookups.calibration(measurement.calibrationId ?? "");
    const names = job.names.factor(calibration?.number ?? 0);
    const p = here(index);
    groups.set(names.inverseNu, [...(groups.get(names.inverseNu) ?? []), `${p}*${cell("factorPart")}`]);
    own.push(`${p}^2*(${cell("u")}^2-${cell("factorPart")}^2-${M.sharedEdgeU}^2)`);
    const repeats = repeatability(measurement, (part) => cell(part as "readings"), job);
    ownWeights.push(
      `${p}^4*((${cell("factor")}*(1+${M.correction}))^4*(${repeats.square})^2*${repeats.inverseNu}` +
        `+(${M.edgeU}^4-${M.sharedEdgeU}^4)*${M.edgeInverseNu})`,
    );
  });
  const edges = `(${ownPartials(here, own.length)})^2*${M.sharedEdgeU}^2`;
  const shared = [...groups].map(([, parts]) => `(${parts.join("+")})^2`);
  const sharedWeights = [...groups].map(([inverseNu, parts]) => `(${parts.join("+")})^4*${inverseNu}`);
  const edgeWeight = `(${ownPartials(here, own.length)})^4*${M.sharedEdgeU}^4*${M.edgeInverseNu}`;
  return {
    common: `SQRT(${[...shared, edges].join("+")})`,
    // Rounding may leave −1E-17 of what is independent.
    u: `SQRT(${here("common")}^2+MAX(0,${own.join("+")}))`,
    weight: `(${[...sharedWeights, edgeWeight, ...ownWeights].join("+")})`,
  };
}

function ownPartials(here: (part: number) => string, count: number): string {
  return Array.from({ length: count }, (_, index) => here(index)).join("+");
}

function quantityCells(place: Place, { quantity, partials, common }: RowResult): Cell[] {
  const { at, line, job } = place;
  const derivation = job.results.derivations[at];
  const { dimensions } = job.bundle.method.definition;
  if (derivation === undefined) return [];
  const here = (part: Fixed | number): string => `${columnLetters(derivedColumn(job, at, part))}${line}`;
  const sizes = derivation.dimensions.map((key) => {
    const position = dimensions.findIndex((one) => one.key === key);
    return `${columnLetters(job.layout.column(position, "size"))}${line}`;
  });
  const doubt = doubtFormulas(place);
  // Where shared parts cancel, their last digits leave a weight that is none.
  const nu = `IF(${doubt.weight}*${ENDLESS}<=${here("u")}^4,"infinite",${here("u")}^4/${doubt.weight})`;
  const found = quantity.degreesOfFreedom;
  const freedom = found === null || Number(found) >= ENDLESS ? null : found;
  return [
    formula(derivation.value(sizes), quantity.value, "derived"),
    formula(doubt.common, common, "derived"),
    formula(doubt.u, quantity.standardUncertainty, "derived"),
    freedom === null ? textFormula(nu, "infinite", "freedom") : formula(nu, freedom, "freedom"),
    coverageCell(here("nu"), quantity.coverageFactor, job),
    formula(`${here("k")}*${here("u")}`, quantity.expandedUncertainty, "derived"),
    text(`${quantity.shownValue} ± ${quantity.shownUncertainty}`),
    EMPTY,
    ...partials.map((value, index) => formula(derivation.partial(index, sizes), value, "derived")),
  ];
}

/** Where the value of a dimension or derived quantity stands on Rows. */
function valueCell(key: string, line: number, job: WorkbookJob): string {
  const { dimensions, derived } = job.bundle.method.definition;
  const dimension = dimensions.findIndex((one) => one.key === key);
  const column =
    dimension >= 0
      ? job.layout.column(dimension, "size")
      : derivedColumn(
          job,
          derived.findIndex((one) => one.key === key),
          "value",
        );
  return `${columnLetters(column)}${line}`;
}

/** The cells behind the dimensions of one row. */
export function tailCells(row: SpecimenRow, line: number, job: WorkbookJob): Cell[] {
  const { derived, classes } = job.bundle.method.definition;
  const found = job.results.of(row);
  const quantities = derived.flatMap((_, at): Cell[] => {
    const width = FIXED.length + (job.results.derivations[at]?.dimensions.length ?? 0);
    const result = job.results.result(row, at);
    if (result !== null) return quantityCells({ row, at, line, job }, result);
    const quantity = found.derived[at];
    const missing = quantity !== undefined && "missing" in quantity ? quantity.missing : "";
    const cells = new Array<Cell>(width).fill(EMPTY);
    cells[FIXED.indexOf("missing")] = text(missing);
    return cells;
  });
  const words = classes.map(({ of, tableId }) => {
    const known = found.classes.find((one) => one.of === of && one.tableId === tableId);
    const table = objectClassTable(tableId);
    if (known === undefined || table === null) return EMPTY;
    return textFormula(classFormula(valueCell(of, line, job), table, job), known.words, "words");
  });
  const { stage, square } = job.survey.readings;
  return [
    ...quantities,
    ...words,
    ...(stage ? [text(row.stage?.x ?? ""), text(row.stage?.y ?? "")] : []),
    ...(square ? [text(row.stage?.square ?? "")] : []),
    ...(job.pictures.size > 0 ? pictureCells(job.pictures.get(row.id) ?? []) : []),
  ];
}
