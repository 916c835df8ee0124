import type { Attachment } from "#core/contract/records/attachment.ts";
import type { Paper } from "#core/contract/records/exchange.ts";
import type { Progress } from "../../long-work/progress.ts";
import type { WorkbookKind } from "../spreadsheet/cell.ts";
import type { Lookups } from "./lookups.ts";
import { METHOD_NAMES, type MethodNames, type MethodNumbers } from "./method-cells.ts";
import type { RowLayout } from "./row-layout.ts";
import type { RowResults } from "./row-results.ts";
import type { SheetBundle } from "./sheet-bundle-type.ts";
import type { Survey } from "./survey.ts";

/** The worksheets in order, by stable names: formulas and readers of the workbook rely on them. */
const WORKSHEETS = {
  results: "Results",
  rows: "Rows",
  calibrations: "Calibrations",
  certificates: "Certificates",
  amendments: "Amendments",
  about: "About",
} as const;
export type WorksheetKey = keyof typeof WORKSHEETS;
export const WORKSHEET_KEYS = Object.keys(WORKSHEETS) as readonly WorksheetKey[];

/** How the worksheets and the named cells of one sheet are called in its workbook. */
export interface BookNames {
  readonly worksheets: Readonly<Record<WorksheetKey, string>>;
  readonly method: MethodNames;
  /** The names of a calibration's cells on the worksheet Calibrations. */
  factor(number: number): { readonly factor: string; readonly u: string; readonly inverseNu: string };
  /** The columns of a class table on About: where a class begins, and its words. */
  classTable(number: number): { readonly from: string; readonly words: string };
  /** The smallest ν of the factors used, as 1/ν: the mean of a sheet may rest on several. */
  readonly worstInverseNu: string;
}

/** What every worksheet is written from. */
export interface WorkbookJob {
  readonly bundle: SheetBundle;
  readonly kind: WorkbookKind;
  readonly paper: Paper;
  readonly names: BookNames;
  readonly layout: RowLayout;
  readonly lookups: Lookups;
  readonly numbers: MethodNumbers;
  readonly survey: Survey;
  readonly results: RowResults;
  /** By row, oldest first; withdrawn ones are left out. */
  readonly pictures: ReadonlyMap<string, readonly Attachment[]>;
  readonly progress: Progress;
  /** Printed at the foot of every page. */
  readonly trace: string;
  readonly programLine: string;
}

/**
 * Names of the only sheet of a workbook; of the `position`-th of several they carry its number, as in `Rows S-0012` and
 * `s2_factor_1`.
 */
export function bookNames(several: { readonly position: number; readonly number: string } | null): BookNames {
  const prefix = several === null ? "" : `s${several.position}_`;
  const suffix = several === null ? "" : ` ${several.number}`;
  const worksheets = Object.fromEntries(WORKSHEET_KEYS.map((key) => [key, WORKSHEETS[key] + suffix]));
  const method = Object.fromEntries(Object.entries(METHOD_NAMES).map(([key, name]) => [key, prefix + name]));
  return {
    worksheets: worksheets as BookNames["worksheets"],
    method: method as MethodNames,
    factor: (number) => ({
      factor: `${prefix}factor_${number}`,
      u: `${prefix}factor_${number}_u`,
      inverseNu: `${prefix}factor_${number}_inverse_nu`,
    }),
    classTable: (number) => ({
      from: `${prefix}class_table_${number}_from`,
      words: `${prefix}class_table_${number}_words`,
    }),
    worstInverseNu: `${prefix}factor_inverse_nu_largest`,
  };
}

/** The name of a worksheet as formulas write it. */
export function inFormula(worksheet: string): string {
  return /^[A-Za-z]+$/.test(worksheet) ? worksheet : `'${worksheet.replaceAll("'", "''")}'`;
}

/** 1/ν of a factor; 0 when ν is infinite. */
export function inverseNu(degreesOfFreedom: string | null): number {
  return degreesOfFreedom === null ? 0 : 1 / Number(degreesOfFreedom);
}

/** The largest 1/ν of the factors used. */
export function worstInverseNu(job: Pick<WorkbookJob, "lookups">): number {
  return job.lookups.calibrations.reduce(
    (most, one) => Math.max(most, inverseNu(one.record.result?.degreesOfFreedom ?? null)),
    0,
  );
}
