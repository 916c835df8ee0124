import { Decimal, ONE, sumOf, ZERO } from "../quantity/decimal.ts";
import { trueMinus } from "../quantity/printed-number.ts";
import { formatToPlaces } from "../quantity/rounding.ts";
import type { CalibrationResult, Setting } from "./calibration.ts";
import { originFit } from "./factor-estimate.ts";
import { type FieldScale, fieldScaleOf } from "./field-pattern.ts";
import { type Halves, halvesOf, type PlacedSetting } from "./halves.ts";
import { type InterceptTest, interceptTest } from "./intercept-test.ts";
import { type Limits, limitsWith } from "./limits.ts";
import { isNamed, type PatternTest } from "./pattern-test.ts";
import { percent } from "./pattern-words.ts";
import { coefficientTest, fitScale, type ScaleFit } from "./scale-fit.ts";

/** What several spans or positions say about the evenness of the scale. */
export interface Linearity {
  /** D − b·L, div, and the same in µm (divided by b), one per setting. */
  readonly residualsDivisions: readonly Decimal[];
  readonly residualsUm: readonly Decimal[];
  readonly largestResidualUm: Decimal;
  /** Null where the settings cannot tell. */
  readonly intercept: InterceptTest | null;
  /** The intercept relative to the longest span, with the certified lines in its u. */
  readonly offset: PatternTest | null;
  readonly halves: Halves | null;
  readonly field: FieldScale;
  /** What the tests were made with, for the words of what they could not show. */
  readonly placed: readonly PlacedSetting[];
  readonly reading: Decimal;
  /** What was found, in words, one sentence each; empty when nothing stands out. */
  readonly findings: readonly string[];
}

function fieldWords(field: FieldScale): string | null {
  const more = percent(field.atRight.minus(field.atLeft).div(2).abs());
  switch (field.pattern) {
    case "bow":
      return `Field distortion: the scale bows; its ends differ from the middle by ${percent(field.atLeft)} % (left) and ${percent(field.atRight)} % (right). Measure objects in the middle, over the span calibrated.`;
    case "stretched-left":
      return `Field distortion: the left end is stretched; divisions of the left half cover ${more} % more µm than those of the right. Look for a tilted slide or reticle.`;
    case "stretched-right":
      return `Field distortion: the right end is stretched; divisions of the right half cover ${more} % more µm than those of the left. Look for a tilted slide or reticle.`;
    default:
      return null;
  }
}

function size(test: PatternTest | null): number {
  if (!test || test.standardUncertainty.isZero()) return test && !test.value.isZero() ? Infinity : 0;
  return test.value.div(test.standardUncertainty).abs().toNumber();
}

/** Offset and distortion can look alike: only the one that fits the readings best is named. */
function findingsOf(offset: PatternTest | null, field: FieldScale, span: Decimal, limits: Limits): string[] {
  const isOffset = offset !== null && isNamed(offset, relative(limits.offset));
  const distortion = fieldWords(field);
  const strongest = field.pattern === "bow" ? size(field.bow) : size(field.slope);
  if (isOffset && (!distortion || size(offset) >= strongest)) {
    return [
      `The readings do not start from zero: each is off by ${trueMinus(formatToPlaces(offset.value.times(span), 2))} div whatever the span. Read the same edge of both lines, and do not use a factor through the origin.`,
    ];
  }
  return distortion ? [distortion] : [];
}

/** A limit in % as a share. */
function relative(limit: Decimal): Decimal {
  return limit.div(100);
}

/** The intercept of D = a + b·L relative to the longest span; null with spans all alike. */
function offsetTest(scale: ScaleFit, span: Decimal): PatternTest | null {
  const fit = fitScale(
    scale,
    scale.settings.map((one) => [ONE, one.length]),
  );
  return fit && coefficientTest(scale, fit, 0, span);
}

/**
 * Linearity of a calibration: residuals about the line through the origin, the intercept test, the factors of the left
 * half, the right half and the whole, and the pattern of the local factor along the scale. Certified lines shared by
 * two spans are counted as correlated where spans are compared.
 * @param settings the settings `result` was calculated from, in the same order
 */
export function linearityOf(
  settings: readonly Setting[],
  result: CalibrationResult,
  limits: Limits = limitsWith(),
): Linearity {
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
  const estimation = estimationOf(result);
  const scale: ScaleFit = { perLength: fit.slope, reading: estimation, settings: placed };
  const reading = Decimal.max(estimation, result.residualDeviation);
  const offset = offsetTest(scale, result.span);
  const field = fieldScaleOf(scale, { halves: relative(limits.halves), field: relative(limits.field) });
  return {
    residualsDivisions: fit.residuals,
    residualsUm,
    largestResidualUm: residualsUm.reduce((most, one) => Decimal.max(most, one.abs()), ZERO),
    intercept: interceptTest(pairs),
    offset,
    halves: halvesOf(placed, reading),
    field,
    placed,
    reading,
    findings: findingsOf(offset, field, result.span, limits),
  };
}

/** u of one reticle interval from estimating at both ends, div. */
function estimationOf(result: CalibrationResult): Decimal {
  const ends = result.budget.filter((one) => one.key === "reading-left" || one.key === "reading-right");
  return sumOf(ends.map((one) => one.standardUncertainty.pow(2))).sqrt();
}
