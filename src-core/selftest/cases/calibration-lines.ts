import { decimal } from "../../quantity/decimal.ts";
import { pointsOf, straightLine } from "../../statistics/straight-line.ts";
import { NIST_HANDBOOK } from "../../vocabulary/literature.ts";
import { LOAD_CELL_DEFLECTIONS, LOAD_CELL_STEP } from "../data/load-cell.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { decimals, rowsOfCases } from "../rows-of-cases.ts";

const deflections = decimals(LOAD_CELL_DEFLECTIONS);
const loads = deflections.map((_, index) => decimal(((index % 20) + 1) * LOAD_CELL_STEP));
const line = () => straightLine(pointsOf(loads, deflections));

/** A calibration line with intercept. The page was computed in single precision, so some windows are wider. */
export const CALIBRATION_LINES: readonly ReferenceCase[] = rowsOfCases(
  "load-cell",
  `${NIST_HANDBOOK}, 4.6.2.3, straight line of the load cell`,
  "from memory",
  [
    { what: "intercept", expected: "0.614969e-2", units: 1, got: () => line().intercept },
    { what: "slope", expected: "0.722103e-6", got: () => line().slope },
    { what: "s of the intercept", expected: "0.7132e-3", got: () => line().interceptError },
    { what: "s of the slope", expected: "0.3969e-9", got: () => line().slopeError },
    { what: "residual s", expected: "0.0021712694", units: 40, got: () => line().residualDeviation },
    { what: "degrees of freedom", expected: "38", units: "exact", got: () => line().degrees },
  ],
);
