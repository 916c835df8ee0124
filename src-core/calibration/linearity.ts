import { Decimal, sumOf, ZERO } from "../quantity/decimal.ts";
import { formatToPlaces } from "../quantity/rounding.ts";
import type { CalibrationResult, Setting } from "./calibration.ts";
import { originFit } from "./factor-estimate.ts";
import { type FieldScale, fieldScaleOf } from "./field-pattern.ts";
import { type Halves, halvesOf, type PlacedSetting } from "./halves.ts";
import { type InterceptTest, interceptTest } from "./intercept-test.ts";

/** What several spans or positions say about the evenness of the scale. */
export interface Linearity {
  /** D − b·L, div, and the same in µm (divided by b), one per setting. */
  readonly residualsDivisions: readonly Decimal[];
  readonly residualsUm: readonly Decimal[];
  readonly largestResidualUm: Decimal;
  /** Null where the settings cannot tell. */
  readonly intercept: InterceptTest | null;
  readonly halves: Halves | null;
  readonly field: FieldScale | null;
  /** What was found, in words, one sentence each; empty when nothing stands out. */
  readonly findings: readonly string[];
}

/** The intercept test is made at 5 %. */
const SIGNIFICANT = 0.05;

function percent(value: Decimal): string {
  return formatToPlaces(value.times(100), 2);
}

function fieldWords(field: FieldScale): string | null {
  switch (field.pattern) {
    case "even":
      return null;
    case "bow":
      return `Field distortion: the scale bows; its ends differ from the middle by ${percent(field.atLeft)} % (left) and ${percent(field.atRight)} % (right). Measure objects in the middle, over the span calibrated.`;
    case "stretched-left":
      return `Field distortion: the left end is stretched; its divisions cover ${percent(field.atLeft.minus(field.atRight))} % more µm than those at the right end. Look for a tilted slide or reticle.`;
    case "stretched-right":
      return `Field distortion: the right end is stretched; its divisions cover ${percent(field.atRight.minus(field.atLeft))} % more µm than those at the left end. Look for a tilted slide or reticle.`;
  }
}

function findingsOf(intercept: InterceptTest | null, field: FieldScale | null): string[] {
  const words: string[] = [];
  if (intercept && intercept.p < SIGNIFICANT) {
    words.push(
      `The readings do not start from zero: each is off by ${formatToPlaces(intercept.intercept, 2)} div whatever the span. Read the same edge of both lines, and do not use a factor through the origin.`,
    );
  }
  const distortion = field && fieldWords(field);
  if (distortion) words.push(distortion);
  return words;
}

/**
 * Linearity of a calibration: residuals about the line through the origin, the intercept test, the factors of the left
 * half, the right half and the whole, and the pattern of the local factor along the scale. Certified lines shared by
 * two spans are counted as correlated where spans are compared.
 * @param settings the settings `result` was calculated from, in the same order
 */
export function linearityOf(settings: readonly Setting[], result: CalibrationResult): Linearity {
  const placed = settings.map((setting, i): PlacedSetting => {
    const interval = result.settings[i]?.interval;
    return {
      ...setting,
      length: interval?.length ?? ZERO,
      standardUncertainty: interval?.standardUncertainty ?? ZERO,
    };
  });
  const pairs = placed.map((one) => ({
    length: one.length,
    divisions: one.reticleRight.minus(one.reticleLeft),
  }));
  const fit = originFit(pairs);
  const residualsUm = fit.residuals.map((residual) => residual.div(fit.slope));
  const intercept = interceptTest(pairs);
  const field = fieldScaleOf(placed);
  return {
    residualsDivisions: fit.residuals,
    residualsUm,
    largestResidualUm: residualsUm.reduce((most, one) => Decimal.max(most, one.abs()), ZERO),
    intercept,
    halves: halvesOf(placed, readingOf(result)),
    field,
    findings: findingsOf(intercept, field),
  };
}

/** u of one reticle interval: the scatter about the line, or the estimation at both ends where that is larger. */
function readingOf(result: CalibrationResult): Decimal {
  const ends = result.budget.filter((one) => one.key === "reading-left" || one.key === "reading-right");
  const estimation = sumOf(ends.map((one) => one.standardUncertainty.pow(2))).sqrt();
  return Decimal.max(estimation, result.residualDeviation);
}
