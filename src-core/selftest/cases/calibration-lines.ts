import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { fUpperP, studentQuantile } from "../../statistics/distributions.ts";
import { oneWayAnova } from "../../statistics/one-way-anova.ts";
import { memberAt } from "../../statistics/sample.ts";
import { pointsOf, type StraightLine, straightLine } from "../../statistics/straight-line.ts";
import { bandDays } from "../../trends/reaching-date.ts";
import { NIST_HANDBOOK } from "../../vocabulary/literature.ts";
import { CHECK_DAYS, CHECK_LINES, LINEWIDTHS_CERTIFIED, LINEWIDTHS_READ } from "../data/linewidths.ts";
import { LOAD_CELL_DEFLECTIONS, LOAD_CELL_STEP } from "../data/load-cell.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { decimals, rowsOfCases } from "../rows-of-cases.ts";

const deflections = decimals(LOAD_CELL_DEFLECTIONS);
const loads = deflections.map((_, index) => decimal(((index % 20) + 1) * LOAD_CELL_STEP));
const line = () => straightLine(pointsOf(loads, deflections));
const certified = decimals(LINEWIDTHS_CERTIFIED);
const read = decimals(LINEWIDTHS_READ);
const linewidths = () => straightLine(pointsOf(certified, read));

/** Residuals of a line split by repeats at one x: the scatter of repeats, and what the line itself misses. */
function lackOfFit(fit: StraightLine, x: readonly Decimal[], y: readonly Decimal[]) {
  const groups = new Map<string, Decimal[]>();
  x.forEach((one, at) => {
    groups.set(one.toString(), [...(groups.get(one.toString()) ?? []), memberAt(y, at)]);
  });
  const { within, withinDeviation } = oneWayAnova([...groups.values()]);
  const degrees = fit.degrees - within.degrees;
  const f = fit.residualSquares.minus(within.squares).div(degrees).div(within.meanSquare);
  return { repeats: withinDeviation, f, p: fUpperP(f.toNumber(), degrees, within.degrees) };
}
const lackOfLoads = () => lackOfFit(line(), loads, deflections);
const lackOfWidths = () => lackOfFit(linewidths(), certified, read);

/** Limit of a check line read back through the calibration, µm: t at 1 − ½(1 − (1 − α)^⅓) for three lines, α = 0.05. */
function checkLimit({ residualDeviation, slope, degrees }: StraightLine): Decimal {
  const tail = (1 - 0.95 ** (1 / 3)) / 2;
  return residualDeviation.div(slope).times(studentQuantile(1 - tail, degrees));
}

/** Days on which a check line lies beyond the limit, with the place of the line: low, middle, upper. */
function daysOut(): string {
  const fit = linewidths();
  const limit = checkLimit(fit);
  const out = CHECK_DAYS.flatMap((day, at) => {
    const places = decimals(day).flatMap((reading, place) => {
      const back = reading.minus(fit.intercept).div(fit.slope);
      const off = back.minus(memberAt(decimals(CHECK_LINES), place)).abs();
      return off.greaterThan(limit) ? [memberAt(["low", "middle", "upper"], place)] : [];
    });
    return places.length > 0 ? [`day ${at + 1}: ${places.join(", ")}`] : [];
  });
  return out.join("; ");
}

const inverse = () => bandDays(linewidths(), decimal("5"), 0.95, "value");

/** Calibration lines with intercept. The page of the load cell was computed in single precision, so some windows are wider. */
export const CALIBRATION_LINES: readonly ReferenceCase[] = [
  ...rowsOfCases("load-cell", `${NIST_HANDBOOK}, 4.6.2.3, straight line of the load cell`, "from memory", [
    { what: "intercept", expected: "0.614969e-2", units: 1, got: () => line().intercept },
    { what: "slope", expected: "0.722103e-6", got: () => line().slope },
    { what: "s of the intercept", expected: "0.7132e-3", got: () => line().interceptError },
    { what: "s of the slope", expected: "0.3969e-9", got: () => line().slopeError },
    { what: "residual s", expected: "0.0021712694", units: 40, got: () => line().residualDeviation },
    { what: "degrees of freedom", expected: "38", units: "exact", got: () => line().degrees },
    { what: "s of the repeats", expected: "0.2147264895e-3", units: 1e4, got: () => lackOfLoads().repeats },
    { what: "F of the lack of fit, 18 and 20", expected: "214.7464", units: 10, got: () => lackOfLoads().f },
  ]),
  ...rowsOfCases(
    "linewidths",
    `${NIST_HANDBOOK}, 2.3.7.1, line of the optical linewidths, data of 2.3.6.7.3; intercept truncated there`,
    "published",
    [
      { what: "intercept, µm", expected: "0.2357", units: 1, got: () => linewidths().intercept },
      { what: "slope", expected: "0.9870", got: () => linewidths().slope },
      { what: "residual s, µm", expected: "0.06203", got: () => linewidths().residualDeviation },
      { what: "degrees of freedom", expected: "38", units: "exact", got: () => linewidths().degrees },
    ],
  ),
  ...rowsOfCases(
    "check-lines",
    `${NIST_HANDBOOK}, 2.3.7.1, check lines at the low, middle and upper end on six days; its chart from memory`,
    "from memory",
    [
      {
        what: "days beyond the limit",
        expected: "day 4: low, middle, upper",
        units: "exact",
        got: daysOut,
      },
    ],
  ),
  ...rowsOfCases(
    "linewidths-full",
    `${NIST_HANDBOOK}: data of 2.3.6.7.3; results recomputed with numpy and scipy`,
    "golden",
    [
      { what: "intercept, µm", expected: "0.2357622902930", got: () => linewidths().intercept },
      { what: "slope", expected: "0.9870377142846", got: () => linewidths().slope },
      { what: "s of the intercept, µm", expected: "0.0243003442081", got: () => linewidths().interceptError },
      { what: "s of the slope", expected: "0.00344058033672", got: () => linewidths().slopeError },
      { what: "limit of a check line, µm", expected: "0.1569640884", got: () => checkLimit(linewidths()) },
      { what: "F of the lack of fit, 8 and 30", expected: "0.69175672542", got: () => lackOfWidths().f },
      { what: "its p", expected: "0.6956411412", got: () => lackOfWidths().p },
      {
        what: "read as 5 µm: lower end by Fieller, µm",
        expected: "4.697396850",
        got: () => inverse()?.earliest ?? "none",
      },
      {
        what: "read as 5 µm: upper end by Fieller, µm",
        expected: "4.956048540",
        got: () => inverse()?.latest ?? "none",
      },
    ],
  ),
];
