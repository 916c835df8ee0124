import { type CalculationBasis, pooledRecordOf } from "#core/calibration/calculation-basis.ts";
import {
  DEFAULT_REPEATABILITY,
  type EarlierScatter,
  pooledRepeatability,
} from "#core/calibration/repeatability.ts";
import type { CalibrationRecord, PooledRecord } from "#core/contract/records/calibration.ts";
import { completeReadings } from "#core/measurement/readings.ts";
import { exerciseOf } from "#core/practice/exercises/all-exercises.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { standardDeviation } from "#core/statistics/sample.ts";
import type { RepeatabilityOrigin } from "#core/vocabulary/repeatability-origin.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listAttempts } from "../../store/repositories/practice-repository.ts";
import { repeatReadingsOf } from "../../store/repositories/repeat-readings-repository.ts";
import { scattersOf } from "../../store/repositories/scatter-repository.ts";

/** How well one setting repeats: of this person's calibrations, else of the bench's, else the stated default. */
export function repeatabilityFor(db: ReadableDb, personId: string): PooledRecord {
  return pooledRecordOf(
    pooledRepeatability(scattersOf(db, personId), "person") ??
      pooledRepeatability(scattersOf(db, null), "bench") ??
      DEFAULT_REPEATABILITY,
  );
}

/** Of each dimension of a specimen that a person read more than once: s of right − left, div. */
function ofRepeatReadings(db: ReadableDb, personId: string): EarlierScatter[] {
  return repeatReadingsOf(db, personId).flatMap((readings) => {
    const divisions = completeReadings(readings).map(({ left, right }) => right.minus(left).abs());
    if (divisions.length < 2) return [];
    return [{ deviation: standardDeviation(divisions), settings: divisions.length }];
  });
}

/** Of a person's attempts at practice that were ended with a result, met or not. */
function ofPractice(db: ReadableDb, personId: string): EarlierScatter[] {
  return listAttempts(db, personId)
    .filter(({ result }) => result !== null)
    .flatMap((attempt) => {
      const answers = attempt.answers.map(({ typed }) => ({ typed, seconds: decimal(0) }));
      return exerciseOf(attempt).pairScatter?.(attempt.seed, answers) ?? [];
    });
}

const SCATTERS: Readonly<
  Record<"person" | "repeat readings" | "practice", (db: ReadableDb, personId: string) => EarlierScatter[]>
> = { person: scattersOf, "repeat readings": ofRepeatReadings, practice: ofPractice };

function scatterFrom(db: ReadableDb, personId: string, origin: keyof typeof SCATTERS): PooledRecord | null {
  const pooled = pooledRepeatability(SCATTERS[origin](db, personId), origin satisfies RepeatabilityOrigin);
  return pooled && pooledRecordOf(pooled);
}

/** What is known of a person's scatter, each origin by itself and never pooled with another. */
export function scattersKnown(db: ReadableDb, personId: string): PooledRecord[] {
  return (Object.keys(SCATTERS) as (keyof typeof SCATTERS)[]).flatMap(
    (origin) => scatterFrom(db, personId, origin) ?? [],
  );
}

type Chosen = Pick<CalibrationRecord, "personId" | "settings" | "conditions">;

/**
 * The rule in use, with what is known of a person's settings now. What somebody asked for in their place holds while
 * there is one setting only.
 * @throws InputError when it is not known any more
 */
export function basisOfDraft(db: ReadableDb, { personId, settings, conditions }: Chosen): CalculationBasis {
  const chosen = conditions.repeatability;
  const read = settings.filter(({ reticleRight }) => reticleRight.trim() !== "").length;
  if (chosen === undefined || read !== 1) return basisFor(db, personId);
  const pooled = scatterFrom(db, personId, chosen);
  if (pooled) return { rule: 2, pooled };
  throw new InputError(
    "conditions.repeatability",
    "names a scatter of which too little is known by now: take another one, or add a setting",
  );
}

/** As `basisOfDraft`, where nobody asked for anything. */
export function basisFor(db: ReadableDb, personId: string): CalculationBasis {
  return { rule: 2, pooled: repeatabilityFor(db, personId) };
}
