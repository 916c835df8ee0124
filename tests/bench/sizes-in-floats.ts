import { studentQuantile } from "#core/statistics/distributions.ts";

/** What the bench compares with: the arithmetic of a size with its uncertainty, in binary floats. */
export interface FloatConditions {
  readonly factor: number;
  readonly factorUncertainty: number;
  readonly factorDegrees: number;
  readonly smallestFraction: number;
  readonly repeatability: number;
  readonly repeatabilityDegrees: number;
  /** Radians. */
  readonly halfAngle: number;
  readonly edgeHalfWidth: number;
  readonly edgeDegrees: number;
}

export interface FloatSize {
  readonly size: number;
  readonly standard: number;
  readonly degrees: number;
  readonly expanded: number;
  readonly shares: readonly number[];
}

/** One size of one reading: same model, same budget with shares, same Welch–Satterthwaite, k by `coverage`. */
export function floatSize(divisions: number, conditions: FloatConditions, coverage: "t95" | "k2"): FloatSize {
  const { factor } = conditions;
  const square = conditions.halfAngle ** 2;
  const aligned = 1 + square / 6;
  const perDivision = factor * aligned;
  const reading = (perDivision * conditions.smallestFraction) / Math.sqrt(12);
  const lines: readonly (readonly [contribution: number, degrees: number])[] = [
    [divisions * aligned * conditions.factorUncertainty, conditions.factorDegrees],
    [perDivision * conditions.repeatability, conditions.repeatabilityDegrees],
    [reading, Number.POSITIVE_INFINITY],
    [reading, Number.POSITIVE_INFINITY],
    [(factor * divisions * square) / Math.sqrt(45), Number.POSITIVE_INFINITY],
    [(2 * conditions.edgeHalfWidth) / Math.sqrt(3), conditions.edgeDegrees],
  ];
  let variance = 0;
  let fourths = 0;
  for (const [contribution, degrees] of lines) {
    variance += contribution ** 2;
    fourths += contribution ** 4 / degrees;
  }
  const standard = Math.sqrt(variance);
  const degrees = variance ** 2 / fourths;
  const k = coverage === "k2" ? 2 : studentQuantile(0.975, Math.max(1, Math.floor(degrees)));
  return {
    size: perDivision * divisions,
    standard,
    degrees,
    expanded: k * standard,
    shares: lines.map(([contribution]) => contribution ** 2 / variance),
  };
}
