import { type CalculationBasis, pooledRecordOf } from "#core/calibration/calculation-basis.ts";
import { DEFAULT_REPEATABILITY, pooledRepeatability } from "#core/calibration/repeatability.ts";
import type { PooledRecord } from "#core/contract/records/calibration.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { scattersOf } from "../../store/repositories/scatter-repository.ts";

/** How well one setting repeats: of this person's calibrations, else of the bench's, else the stated default. */
export function repeatabilityFor(db: ReadableDb, personId: string): PooledRecord {
  return pooledRecordOf(
    pooledRepeatability(scattersOf(db, personId), "person") ??
      pooledRepeatability(scattersOf(db, null), "bench") ??
      DEFAULT_REPEATABILITY,
  );
}

/** The rule in use, with what is known of a person's settings now. */
export function basisFor(db: ReadableDb, personId: string): CalculationBasis {
  return { rule: 2, pooled: repeatabilityFor(db, personId) };
}
