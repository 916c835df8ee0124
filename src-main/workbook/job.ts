import type { WorkbookKind } from "./cell.ts";
import type { Lookups } from "./lookups.ts";
import type { MethodNumbers } from "./method-cells.ts";
import type { SheetBundle } from "./sheet-bundle-type.ts";
import type { Survey } from "./survey.ts";

/** What every worksheet is written from. */
export interface WorkbookJob {
  readonly bundle: SheetBundle;
  readonly kind: WorkbookKind;
  readonly lookups: Lookups;
  readonly numbers: MethodNumbers;
  readonly survey: Survey;
  /** Printed at the foot of every page. */
  readonly trace: string;
  readonly programLine: string;
}

/** Stable names: formulas and readers of the workbook rely on them. */
export const WORKSHEETS = {
  results: "Results",
  rows: "Rows",
  calibrations: "Calibrations",
  certificates: "Certificates",
  amendments: "Amendments",
  about: "About",
} as const;

/** The names of a calibration's cells on the worksheet Calibrations. */
export function factorNames(number: number): { factor: string; u: string; inverseNu: string } {
  return {
    factor: `factor_${number}`,
    u: `factor_${number}_u`,
    inverseNu: `factor_${number}_inverse_nu`,
  };
}

/** The smallest ν of the factors used, as 1/ν: the mean of a sheet may rest on several. */
export const WORST_INVERSE_NU = "factor_inverse_nu_largest";

/** 1/ν of a factor; 0 when ν is infinite. */
export function inverseNu(degreesOfFreedom: string | null): number {
  return degreesOfFreedom === null ? 0 : 1 / Number(degreesOfFreedom);
}
