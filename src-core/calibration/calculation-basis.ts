import type { PooledRecord } from "../contract/records/calibration.ts";
import { decimalOfText, textOfDecimal } from "../quantity/decimal-text.ts";
import type { CalibrationInput } from "./calibration.ts";
import type { PooledRepeatability } from "./repeatability.ts";

/** What a factor is calculated by beside what was typed: the rule, and what was known of the scatter of a setting. */
export type CalculationBasis = { readonly rule: 1 } | { readonly rule: 2; readonly pooled: PooledRecord };

/** The basis of a stored result, so that it can be recomputed. */
export function basisOf(stored: { readonly pooled?: PooledRecord | undefined }): CalculationBasis {
  return stored.pooled ? { rule: 2, pooled: stored.pooled } : { rule: 1 };
}

export function pooledRecordOf(pooled: PooledRepeatability): PooledRecord {
  return {
    ...pooled,
    deviation: textOfDecimal(pooled.deviation),
    degreesOfFreedom: textOfDecimal(pooled.degreesOfFreedom),
  };
}

/** A stored pooled repeatability as decimals. */
export function readPooled(pooled: PooledRecord): PooledRepeatability {
  return {
    ...pooled,
    deviation: decimalOfText("pooled.deviation", pooled.deviation),
    degreesOfFreedom: decimalOfText("pooled.degreesOfFreedom", pooled.degreesOfFreedom),
  };
}

/** A basis as part of the input of `calibrate`. */
export function readBasis(basis: CalculationBasis | undefined): Pick<CalibrationInput, "rule" | "pooled"> {
  if (!basis) return {};
  return basis.rule === 1 ? { rule: 1 } : { rule: 2, pooled: readPooled(basis.pooled) };
}
