import { Decimal, decimal, sumOf, ZERO } from "../quantity/decimal.ts";
import type { PlacedSetting } from "./halves.ts";
import { type LinearFit, linearFit } from "./least-squares.ts";
import { type PatternTest, patternTest } from "./pattern-test.ts";

/** Divisions regressed on the certified positions, which do not scatter. */
export interface ScaleFit {
  /** b of D = b·L through the origin, div/µm. */
  readonly perLength: Decimal;
  /** u of one reticle interval below which nothing is believed: the estimation at both ends, div. */
  readonly reading: Decimal;
  readonly settings: readonly PlacedSetting[];
}

/** u of one certified line, µm: an interval is the difference of two lines with independent errors of equal size. */
function lineUncertainty(settings: readonly PlacedSetting[]): Decimal {
  return settings
    .reduce((most, one) => Decimal.max(most, one.standardUncertainty), ZERO)
    .div(decimal(2).sqrt());
}

/**
 * u of Σwᵢ·Dᵢ from the certified lines: a line that several settings share errs in all of them alike, so their weights
 * add up before they are squared (JCGM 100:2008 5.2.2).
 */
function fromLines({ settings, perLength }: ScaleFit, weights: readonly Decimal[]): Decimal {
  const byLine = new Map<string, Decimal>();
  const add = (line: Decimal, weight: Decimal): void => {
    const key = line.toString();
    byLine.set(key, (byLine.get(key) ?? ZERO).plus(weight));
  };
  settings.forEach((setting, i) => {
    const weight = weights[i] ?? ZERO;
    add(setting.lineRight, weight);
    add(setting.lineLeft, weight.negated());
  });
  const squares = sumOf([...byLine.values()].map((weight) => weight.pow(2)));
  return squares.sqrt().times(perLength).times(lineUncertainty(settings));
}

/** Fits the columns of `design` to the divisions; null where they cannot be told apart. */
export function fitScale(scale: ScaleFit, design: readonly (readonly Decimal[])[]): LinearFit | null {
  return linearFit(
    design,
    scale.settings.map((one) => one.reticleRight.minus(one.reticleLeft)),
  );
}

/** Student's test of a coefficient divided by `unit`, with the certified lines in its u. */
export function coefficientTest(scale: ScaleFit, fit: LinearFit, index: number, unit: Decimal): PatternTest {
  const scatter = Decimal.max(fit.residualDeviation, scale.reading).times(fit.spread[index] ?? ZERO);
  const lines = fromLines(scale, fit.weights[index] ?? []);
  const u = scatter.pow(2).plus(lines.pow(2)).sqrt();
  return patternTest((fit.coefficients[index] ?? ZERO).div(unit), u.div(unit).abs(), fit.degrees);
}
