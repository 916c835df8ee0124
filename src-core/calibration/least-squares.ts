import { type Decimal, ONE, sumOf, ZERO } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";

/** Coefficients of y = Σ cⱼ·xⱼ by least squares, with their standard deviations. */
export interface LinearFit {
  readonly coefficients: readonly Decimal[];
  readonly deviations: readonly Decimal[];
  /** s of the residuals, and √(XᵀX)⁻¹ⱼⱼ by which it becomes the deviation of cⱼ. */
  readonly residualDeviation: Decimal;
  readonly spread: readonly Decimal[];
  /** cⱼ = Σ wⱼᵢ·yᵢ, one row per coefficient. */
  readonly weights: readonly (readonly Decimal[])[];
  readonly degrees: number;
}

function at(row: readonly Decimal[] | undefined, column: number): Decimal {
  return row?.[column] ?? ZERO;
}

/** Clears one column from every other row; null when no usable pivot is left. */
function eliminate(rows: Decimal[][], column: number, smallest: Decimal): Decimal[][] | null {
  let best = column;
  for (let i = column; i < rows.length; i++) {
    if (at(rows[i], column).abs().greaterThan(at(rows[best], column).abs())) best = i;
  }
  const pivotRow = rows[best];
  const pivot = at(pivotRow, column);
  if (!pivotRow || pivot.abs().lessThanOrEqualTo(smallest)) return null;
  const scaled = pivotRow.map((value) => value.div(pivot));
  const swapped = rows.map((row, i) => (i === best ? (rows[column] ?? row) : row));
  return swapped.map((row, i) =>
    i === column ? scaled : row.map((value, j) => value.minus(at(row, column).times(at(scaled, j)))),
  );
}

/** Inverse by Gauss–Jordan elimination with pivoting; null when the matrix is singular to 20 digits. */
function inverseOf(matrix: readonly (readonly Decimal[])[]): Decimal[][] | null {
  const n = matrix.length;
  const largest = matrix.reduce(
    (most, row, i) => (at(row, i).abs().greaterThan(most) ? at(row, i).abs() : most),
    ZERO,
  );
  const smallest = largest.times("1e-20");
  let rows: Decimal[][] | null = matrix.map((row, i) => [
    ...row,
    ...row.map((_, j) => (i === j ? ONE : ZERO)),
  ]);
  for (let column = 0; column < n && rows; column++) rows = eliminate(rows, column, smallest);
  return rows?.map((row) => row.slice(n)) ?? null;
}

/**
 * Linear least squares by the normal equations, in 34-digit decimals, for a few parameters.
 * @param design one row per observation, one column per parameter
 * @returns null when the observations cannot tell the parameters apart or leave no degree of freedom
 * @throws InputError `design` when its rows do not fit the observations
 */
export function linearFit(
  design: readonly (readonly Decimal[])[],
  observed: readonly Decimal[],
): LinearFit | null {
  const parameters = design[0]?.length ?? 0;
  if (design.length !== observed.length || design.some((row) => row.length !== parameters)) {
    throw new InputError("design", "must have one row per observation, all of the same length");
  }
  const degrees = observed.length - parameters;
  if (parameters === 0 || degrees < 1) return null;
  const column = (j: number): Decimal[] => design.map((row) => at(row, j));
  const dot = (a: readonly Decimal[], b: readonly Decimal[]): Decimal =>
    sumOf(a.map((value, i) => value.times(b[i] ?? ZERO)));
  const indices = Array.from({ length: parameters }, (_, j) => j);
  const inverse = inverseOf(indices.map((i) => indices.map((j) => dot(column(i), column(j)))));
  if (!inverse) return null;
  const right = indices.map((j) => dot(column(j), observed));
  const coefficients = inverse.map((row) => dot(row, right));
  const residuals = observed.map((value, i) => value.minus(dot(design[i] ?? [], coefficients)));
  const variance = dot(residuals, residuals).div(degrees);
  return {
    coefficients,
    deviations: inverse.map((row, i) => variance.times(at(row, i)).abs().sqrt()),
    residualDeviation: variance.sqrt(),
    spread: inverse.map((row, i) => at(row, i).abs().sqrt()),
    weights: inverse.map((row) => design.map((terms) => dot(row, terms))),
    degrees,
  };
}
