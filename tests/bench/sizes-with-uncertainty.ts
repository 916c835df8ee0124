import type { FactorInForce, ReadingConditions } from "#core/measurement/size.ts";
import { sizeOfDivisions } from "#core/measurement/size-of-divisions.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { studentQuantile } from "#core/statistics/distributions.ts";
import type { CoverageRule } from "#core/vocabulary/calibration.ts";
import { bestOf, printTable, threeFigures } from "./print-table.ts";
import { type FloatConditions, floatSize } from "./sizes-in-floats.ts";

const ROWS = 100_000;
const RUNS = 3;

/** Invented inputs: a single setting per object, six lines in the budget. */
const FACTOR: FactorInForce = {
  factor: decimal("2.500744506845901"),
  standardUncertainty: decimal("0.0031606350681030"),
  degreesOfFreedom: decimal("56.0036330789"),
};
const CONDITIONS: ReadingConditions = {
  smallestFraction: decimal("0.1"),
  repeatability: decimal("0.08"),
  repeatabilityDegreesOfFreedom: decimal(24),
  alignmentHalfAngle: decimal(3),
  ends: "points",
  edgeHalfWidth: decimal("0.12903846153846"),
  edgeDegreesOfFreedom: decimal(8),
  edgeKind: "same-sense",
};
const FLOATS: FloatConditions = {
  factor: 2.500744506845901,
  factorUncertainty: 0.003160635068103,
  factorDegrees: 56.0036330789,
  smallestFraction: 0.1,
  repeatability: 0.08,
  repeatabilityDegrees: 24,
  halfAngle: (3 * Math.PI) / 180,
  edgeHalfWidth: 0.12903846153846,
  edgeDegrees: 8,
};

/** Readings 5.0 … 95.9 div, in tenths. */
const READINGS: readonly Decimal[] = Array.from({ length: ROWS }, (_, row) =>
  decimal(50 + (row % 910)).div(10),
);
const FLOAT_READINGS = READINGS.map((reading) => reading.toNumber());

function sizes(coverage: CoverageRule): void {
  let sum = 0;
  for (const reading of READINGS) {
    sum += sizeOfDivisions({ divisions: [reading], factor: FACTOR, conditions: CONDITIONS, coverage }).budget
      .length;
  }
  if (sum === 0) throw new Error("nothing was computed");
}

function floatSizes(coverage: CoverageRule): void {
  let sum = 0;
  for (const reading of FLOAT_READINGS) sum += floatSize(reading, FLOATS, coverage).expanded;
  if (!(sum > 0)) throw new Error("nothing was computed");
}

/** The two must compute the same thing, or their ratio says nothing. */
function requireAgreement(): void {
  for (const [row, reading] of READINGS.slice(0, 910).entries()) {
    const exact = sizeOfDivisions({
      divisions: [reading],
      factor: FACTOR,
      conditions: CONDITIONS,
      coverage: "t95",
    });
    const float = floatSize(FLOAT_READINGS[row] ?? 0, FLOATS, "t95");
    const off = Math.abs(exact.uncertainty.expanded.toNumber() / float.expanded - 1);
    if (off > 1e-12)
      throw new Error(`row ${row}: U ${exact.uncertainty.expanded} against ${float.expanded} in floats`);
  }
}

function quantiles(): void {
  let sum = 0;
  for (let row = 0; row < ROWS; row += 1) sum += studentQuantile(0.975, 20 + (row % 30));
  if (!(sum > 0)) throw new Error("nothing was computed");
}

/**
 * Sizes with U per second over 100,000 rows, as the core computes them (34-digit decimals, whole budget), beside the
 * same arithmetic in binary floats, for both coverage rules; and what the t quantile alone costs per row.
 */
export function benchSizes(): void {
  requireAgreement();
  const rows = (["t95", "k2"] as const).map((coverage) => {
    const decimals = bestOf(RUNS, () => sizes(coverage));
    const floats = bestOf(RUNS, () => floatSizes(coverage));
    return [
      `size, budget, U by ${coverage}`,
      threeFigures((ROWS / decimals) * 1000),
      threeFigures((ROWS / floats) * 1000),
      threeFigures(decimals / floats),
      threeFigures((decimals / ROWS) * 1000),
    ];
  });
  const quantile = bestOf(RUNS, quantiles);
  rows.push([
    "t quantile alone",
    "",
    threeFigures((ROWS / quantile) * 1000),
    "",
    threeFigures((quantile / ROWS) * 1000),
  ]);
  printTable(
    [`${ROWS.toLocaleString("en-GB")} rows`, "rows/s decimal", "rows/s float", "ratio", "µs/row"],
    rows,
  );
}
