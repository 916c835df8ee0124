import { Decimal, ZERO } from "../quantity/decimal.ts";
import { InputError, requireCount, requireFinite } from "../quantity/input-error.ts";
import { fromExpanded, rectangular } from "../uncertainty/type-b.ts";
import type { CertifiedInterval, CertifiedLine, CertifiedScale } from "./certified-scale.ts";

interface CertifiedPoint {
  readonly error: Decimal;
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

/** Certified error at a nominal position, µm, linear between neighbouring certified lines. */
function pointAt(lines: readonly CertifiedLine[], field: string, position: Decimal): CertifiedPoint {
  requireFinite(field, position);
  const index = indexAtOrAfter(lines, position);
  const after = lines[index];
  if (after?.nominal.equals(position)) return { error: after.error, interpolated: false };
  const before = lines[index - 1];
  if (!before || !after) {
    const first = lines[0]?.nominal.toFixed();
    const last = lines[lines.length - 1]?.nominal.toFixed();
    throw new InputError(
      field,
      `lies at ${position.toFixed()} µm, outside the certified lines (${first} to ${last} µm): choose a line inside the certificate's table`,
    );
  }
  const fraction = position.minus(before.nominal).div(after.nominal.minus(before.nominal));
  return { error: before.error.plus(after.error.minus(before.error).times(fraction)), interpolated: true };
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

function intervalUncertainty(scale: CertifiedScale, interpolatedEnds: number): Decimal {
  const certified = fromExpanded(scale.expandedUncertainty, scale.coverageFactor);
  if (interpolatedEnds === 0) return certified;
  const ruling = rectangular(interpolationHalfWidth(scale.lines));
  return certified.times(certified).plus(ruling.times(ruling).times(interpolatedEnds)).sqrt();
}

/**
 * The certified length between two positions of a stage micrometer, µm at the certificate's temperature: nominal
 * distance plus the difference of the certified errors, interpolated between certified lines where an end is not one.
 *
 * u: the certificate's U/k for an interval; each interpolated end adds a rectangular part with half the largest change
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
  return {
    nominal,
    length,
    standardUncertainty: intervalUncertainty(scale, interpolatedEnds),
    interpolated: interpolatedEnds > 0,
  };
}
