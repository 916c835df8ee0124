import { Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { InputError, requireCount, requireFinite } from "../quantity/input-error.ts";
import { trueMinus } from "../quantity/printed-number.ts";
import { fromExpanded, rectangular } from "../uncertainty/type-b.ts";
import type { CertifiedInterval, CertifiedLine, CertifiedScale } from "./certified-scale.ts";

interface CertifiedPoint {
  readonly error: Decimal;
  /** U of the line, or the larger of its certified neighbours; zero where the certificate states none. */
  readonly expanded: Decimal;
  readonly interpolated: boolean;
}

/** First line at or beyond `position`; the lines rise. */
function indexAtOrAfter(lines: readonly CertifiedLine[], position: Decimal): number {
  let low = 0;
  let high = lines.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const line = lines[middle];
    if (line?.nominal.lessThan(position)) low = middle + 1;
    else high = middle;
  }
  return low;
}

function uOf(line: CertifiedLine): Decimal {
  return line.expandedUncertainty ?? ZERO;
}

/** Certified error at a nominal position, µm, linear between neighbouring certified lines. */
function pointAt(lines: readonly CertifiedLine[], field: string, position: Decimal): CertifiedPoint {
  requireFinite(field, position);
  const index = indexAtOrAfter(lines, position);
  const after = lines[index];
  if (after?.nominal.equals(position))
    return { error: after.error, expanded: uOf(after), interpolated: false };
  const before = lines[index - 1];
  if (!before || !after) {
    const first = lines[0]?.nominal.toFixed();
    const last = lines[lines.length - 1]?.nominal.toFixed();
    throw new InputError(
      field,
      `lies at ${trueMinus(position.toFixed())} µm, outside the certified lines (${first} to ${last} µm): choose a line inside the certificate's table`,
    );
  }
  const fraction = position.minus(before.nominal).div(after.nominal.minus(before.nominal));
  return {
    error: before.error.plus(after.error.minus(before.error).times(fraction)),
    expanded: Decimal.max(uOf(before), uOf(after)),
    interpolated: true,
  };
}

/**
 * Half the largest change of error between neighbouring certified lines: how far the ruling is seen to wander over one
 * step of the table, and so how far a line between two certified ones may lie from the straight line drawn there.
 */
function interpolationHalfWidth(lines: readonly CertifiedLine[]): Decimal {
  let largest = ZERO;
  lines.forEach((line, i) => {
    const before = lines[i - 1];
    if (before) largest = Decimal.max(largest, line.error.minus(before.error).abs());
  });
  return largest.div(2);
}

/**
 * U of an interval: of its two lines, taken as independent, where the certificate states one for each line; else
 * a + b·L (JCGM 100:2008 5.1.2; ILAC-P14:09/2020 5.3 on how a certificate may state U, from memory).
 */
function expandedOf(
  scale: CertifiedScale,
  start: CertifiedPoint,
  end: CertifiedPoint,
  length: Decimal,
): Decimal {
  const lines = start.expanded.pow(2).plus(end.expanded.pow(2));
  if (!lines.isZero()) return lines.sqrt();
  return scale.uncertaintyPerUm
    ? scale.expandedUncertainty.plus(scale.uncertaintyPerUm.times(length))
    : scale.expandedUncertainty;
}

/**
 * The certified length between two positions of a stage micrometer, µm at the certificate's temperature: nominal
 * distance plus the difference of the certified errors, interpolated between certified lines where an end is not one.
 *
 * u: the certificate's U/k for the interval; each interpolated end adds a rectangular part with half the largest change
 * of error between neighbouring certified lines as half-width. Interpolating is common practice without a source and
 * acceptable only when the certificate covers enough lines.
 * @throws InputError `from` or `to` outside the table; `to` when it does not lie beyond `from`
 */
export function certifiedInterval(scale: CertifiedScale, from: Decimal, to: Decimal): CertifiedInterval {
  requireCount("lines", scale.lines, 2);
  const start = pointAt(scale.lines, "from", from);
  const end = pointAt(scale.lines, "to", to);
  if (!to.greaterThan(from)) throw new InputError("to", "must lie to the right of the line on the left");
  const nominal = to.minus(from);
  const length = nominal.plus(end.error).minus(start.error);
  const interpolatedEnds = Number(start.interpolated) + Number(end.interpolated);
  const certified = fromExpanded(expandedOf(scale, start, end, length), scale.coverageFactor);
  const ruling = interpolatedEnds === 0 ? ZERO : rectangular(interpolationHalfWidth(scale.lines));
  const interpolation = ruling.times(decimal(interpolatedEnds).sqrt());
  return {
    nominal,
    length,
    standardUncertainty:
      interpolatedEnds === 0
        ? certified
        : certified.times(certified).plus(ruling.times(ruling).times(interpolatedEnds)).sqrt(),
    certified,
    interpolation,
    interpolated: interpolatedEnds > 0,
  };
}
