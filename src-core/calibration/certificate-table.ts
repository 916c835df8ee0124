import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requireCount, requireFinite } from "../quantity/input-error.ts";
import type { CertificateSign } from "../vocabulary/calibration.ts";
import type { CertifiedLine } from "./certified-scale.ts";

/** One row of a certificate as printed: nominal position and certified value, µm, by the certificate's own sign. */
export interface CertificateRow {
  readonly nominal: Decimal;
  readonly value: Decimal;
}

/** Certified − nominal, µm, whatever the certificate prints. */
function errorOf(sign: CertificateSign, row: CertificateRow): Decimal {
  switch (sign) {
    case "position":
      return row.value.minus(row.nominal);
    case "error":
    case "correction":
      return row.value;
    case "indication-error":
      return row.value.negated();
  }
}

/** Distance from line i to the nearer of its neighbours. */
function spacingAt(rows: readonly CertificateRow[], i: number): Decimal {
  const here = rows[i]?.nominal ?? decimal(0);
  const before = rows[i - 1];
  const after = rows[i + 1];
  const left = before ? here.minus(before.nominal) : null;
  const right = after ? after.nominal.minus(here) : null;
  if (left && right) return left.lessThan(right) ? left : right;
  return left ?? right ?? decimal(0);
}

/**
 * The certified table of a stage micrometer from the rows of its certificate, µm. Errors and corrections are told
 * apart by `sign`; a wrong sign or unit usually shows as an error as large as the line spacing and is refused.
 * @throws InputError `lines` with fewer than two rows, `lines.N.nominal` when positions do not rise,
 * `lines.N.value` when a line would lie more than half a line spacing from its nominal place
 */
export function linesFromTable(sign: CertificateSign, rows: readonly CertificateRow[]): CertifiedLine[] {
  requireCount("lines", rows, 2);
  rows.forEach((row, i) => {
    requireFinite(`lines.${i}.nominal`, row.nominal);
    requireFinite(`lines.${i}.value`, row.value);
    const before = rows[i - 1];
    if (before && !row.nominal.greaterThan(before.nominal)) {
      throw new InputError(
        `lines.${i}.nominal`,
        `must be greater than the line before it (${before.nominal.toFixed()} µm): list the lines in rising order, each once`,
      );
    }
  });
  return rows.map((row, i) => {
    const error = errorOf(sign, row);
    const spacing = spacingAt(rows, i);
    if (error.abs().times(2).greaterThan(spacing)) {
      throw new InputError(
        `lines.${i}.value`,
        `would put this line ${error.abs().toFixed()} µm from its nominal place, with the next line ${spacing.toFixed()} µm away: check the unit (µm) and whether the certificate gives positions, errors or corrections`,
      );
    }
    return { nominal: row.nominal, error };
  });
}
