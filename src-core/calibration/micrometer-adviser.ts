import { Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requirePositive } from "../quantity/input-error.ts";
import { formatToPlaces, roundToSignificant } from "../quantity/rounding.ts";

/** A stage micrometer as the adviser sees it. */
export interface AdvisedMicrometer {
  readonly id: string;
  readonly name: string;
  readonly scaleLengthUm: Decimal;
  /** Number of parts the scale is ruled into. */
  readonly divisions: number;
  /** Expanded uncertainty of a certified interval, µm; null without a certificate. */
  readonly expandedUncertainty: Decimal | null;
  /** Calendar date, ISO 8601; null without a certificate. */
  readonly certificateDueOn: string | null;
}

export interface MicrometerAdvice {
  readonly id: string;
  readonly name: string;
  /** Reticle divisions it can cover on this train, at most the whole scale. */
  readonly spanDivisions: Decimal;
  /** Certified length that lies under those divisions, µm. */
  readonly usedLengthUm: Decimal;
  /** Micrometer lines to choose from within that length. */
  readonly steps: number;
  /** U of the certificate over that length; null without a certificate. */
  readonly relativeUncertainty: Decimal | null;
  readonly usable: boolean;
  /** Why it stands where it stands, the weightiest first. */
  readonly reasons: readonly string[];
}

/** Wanted span: at least half of a 100-division scale. */
const WANTED_SPAN = 50;
/** A line about 1 µm wide covers this part of a division or more on such a train; from memory. */
const LINE_WIDTH_MATTERS_UM = decimal("1.3");

function spanWords(span: Decimal, reticleDivisions: number): string {
  const shown = formatToPlaces(span, span.lessThan(10) ? 1 : 0);
  if (span.greaterThanOrEqualTo(reticleDivisions))
    return `covers the whole scale of ${reticleDivisions} divisions`;
  if (span.greaterThanOrEqualTo(WANTED_SPAN)) return `covers ${shown} of ${reticleDivisions} divisions`;
  return `covers only ${shown} of ${reticleDivisions} divisions: reading errors weigh ${formatToPlaces(decimal(reticleDivisions).div(span), 1)} times as much as on the whole scale`;
}

function stepWords(pitchUm: Decimal, factor: Decimal): string {
  const perStep = pitchUm.div(factor);
  return `its lines stand ${roundToSignificant(perStep, 2).toFixed()} divisions apart`;
}

function certificateWords(micrometer: AdvisedMicrometer, relative: Decimal | null, today: string): string {
  if (relative === null || micrometer.certificateDueOn === null) return "has no certificate: not traceable";
  const percent = roundToSignificant(relative.times(100), 2).toFixed();
  return micrometer.certificateDueOn < today
    ? `its certificate was due on ${micrometer.certificateDueOn}`
    : `its certificate is good to ${percent} % over this length`;
}

function adviceOn(
  micrometer: AdvisedMicrometer,
  factor: Decimal,
  reticleDivisions: number,
  today: string,
): MicrometerAdvice {
  const length = requirePositive(`micrometers.${micrometer.id}.scaleLengthUm`, micrometer.scaleLengthUm);
  const parts = requirePositive(`micrometers.${micrometer.id}.divisions`, decimal(micrometer.divisions));
  const pitch = length.div(parts);
  const steps = Decimal.min(length, factor.times(reticleDivisions)).div(pitch).floor().toNumber();
  const usedLengthUm = pitch.times(steps);
  const spanDivisions = usedLengthUm.div(factor);
  const relative =
    micrometer.expandedUncertainty && steps > 0 ? micrometer.expandedUncertainty.div(usedLengthUm) : null;
  const reasons = [
    steps === 0
      ? `is too coarse: its first line lies beyond the ${reticleDivisions} divisions`
      : spanWords(spanDivisions, reticleDivisions),
    certificateWords(micrometer, relative, today),
  ];
  if (steps > 0) reasons.push(stepWords(pitch, factor));
  if (factor.lessThanOrEqualTo(LINE_WIDTH_MATTERS_UM)) {
    reasons.push("its lines are about a division wide here: read the same edge of both lines");
  }
  const inDate = micrometer.certificateDueOn !== null && micrometer.certificateDueOn >= today;
  return {
    id: micrometer.id,
    name: micrometer.name,
    spanDivisions,
    usedLengthUm,
    steps,
    relativeUncertainty: relative,
    usable: steps > 0 && relative !== null && inDate,
    reasons,
  };
}

/** Span as far as it matters for the ranking: beyond 90 % of the scale all are equally good. */
function usefulSpan(advice: MicrometerAdvice, reticleDivisions: number): Decimal {
  return Decimal.min(advice.spanDivisions, decimal(reticleDivisions).times("0.9"));
}

/** By what one micrometer stands before another. */
export const RANK_REASONS = ["certificate", "span", "uncertainty", "lines"] as const;
export type RankReason = (typeof RANK_REASONS)[number];

/** Which of two pieces of advice stands first, below zero the first one, and by what. */
export function compareAdvice(
  a: MicrometerAdvice,
  b: MicrometerAdvice,
  reticleDivisions: number,
): { readonly order: number; readonly reason: RankReason } {
  if (a.usable !== b.usable) {
    const tooCoarse = (a.usable ? b : a).steps === 0;
    return { order: a.usable ? -1 : 1, reason: tooCoarse ? "span" : "certificate" };
  }
  const span = usefulSpan(b, reticleDivisions).comparedTo(usefulSpan(a, reticleDivisions));
  if (span !== 0) return { order: span, reason: "span" };
  if (a.relativeUncertainty && b.relativeUncertainty) {
    const certificate = a.relativeUncertainty.comparedTo(b.relativeUncertainty);
    if (certificate !== 0) return { order: certificate, reason: "uncertainty" };
  }
  return { order: b.steps - a.steps, reason: "lines" };
}

/**
 * Ranks stage micrometers for a train by the span they cover, the best first, with the reasons in words. Those without
 * a certificate in date come after all others; among equal spans the smaller certified uncertainty wins, then the finer
 * ruling. Common practice, no source.
 * @param factor nominal or last factor of the train, µm/div; @param today calendar date, ISO 8601
 * @throws InputError `factor`, `reticleDivisions` or a micrometer that cannot be
 */
export function adviseMicrometers(
  micrometers: readonly AdvisedMicrometer[],
  factor: Decimal,
  reticleDivisions: number,
  today: string,
): MicrometerAdvice[] {
  requirePositive("factor", factor);
  if (!Number.isInteger(reticleDivisions) || reticleDivisions < 1) {
    throw new InputError("reticleDivisions", "must be a whole number of divisions, at least 1");
  }
  return micrometers
    .map((one) => adviceOn(one, factor, reticleDivisions, today))
    .sort((a, b) => compareAdvice(a, b, reticleDivisions).order);
}
