import {
  PROPOSED_PRACTICE_CRITERIA,
  PracticeAnswer,
  PracticeAttempt,
  PracticeCriteria,
  type PracticeResult,
} from "#core/contract/records/practice.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";
import { keepSetting } from "./laboratory-repository.ts";

const ATTEMPT = sql`SELECT id, exercise, version, seed, person_id AS "personId", criteria_json AS criteria,
  begun_at AS "begunAt", result_json AS result, ended_at AS "endedAt" FROM practice_attempt`;
const CRITERIA_KEY = "practice";

function answersOf(db: ReadableDb, attemptId: string): PracticeAnswer[] {
  return sql`SELECT ordinal, typed_json AS typed, at FROM practice_answer
    WHERE attempt_id = ${attemptId} ORDER BY ordinal`.all(db, (row) =>
    PracticeAnswer.parse({ ...row, typed: JSON.parse(String(row.typed)) }),
  );
}

function attemptOf(db: ReadableDb, { criteria, result, ...row }: Row): PracticeAttempt {
  return PracticeAttempt.parse({
    ...row,
    criteria: JSON.parse(String(criteria)),
    answers: answersOf(db, String(row.id)),
    result: result === null ? null : JSON.parse(String(result)),
  });
}

export function findAttempt(db: ReadableDb, id: string): PracticeAttempt | null {
  return sql`${ATTEMPT} WHERE id = ${id}`.one(db, (row) => attemptOf(db, row));
}

/** Newest first; of one person, or of all. */
export function listAttempts(db: ReadableDb, personId: string | null): PracticeAttempt[] {
  const rows =
    personId === null
      ? sql`${ATTEMPT} ORDER BY begun_at DESC, rowid DESC`.all(db)
      : sql`${ATTEMPT} WHERE person_id = ${personId} ORDER BY begun_at DESC, rowid DESC`.all(db);
  return rows.map((row) => attemptOf(db, row));
}

/** The attempt of a person at an exercise that is neither scored nor given up. */
export function attemptUnderWay(db: ReadableDb, personId: string, exercise: string): PracticeAttempt | null {
  return sql`${ATTEMPT} WHERE person_id = ${personId}
    AND exercise = ${exercise} AND ended_at IS NULL
    ORDER BY begun_at DESC, rowid DESC LIMIT 1`.one(db, (row) => attemptOf(db, row));
}

export function insertAttempt(db: WritableDb, attempt: PracticeAttempt): void {
  insert(db, "practice_attempt", {
    id: attempt.id,
    exercise: attempt.exercise,
    version: attempt.version,
    seed: attempt.seed,
    person_id: attempt.personId,
    criteria_json: JSON.stringify(attempt.criteria),
    begun_at: attempt.begunAt,
  });
}

export function insertAnswer(db: WritableDb, attemptId: string, answer: PracticeAnswer): void {
  insert(db, "practice_answer", {
    attempt_id: attemptId,
    ordinal: answer.ordinal,
    typed_json: JSON.stringify(answer.typed),
    at: answer.at,
  });
}

/** @param result null: given up */
export function endAttempt(db: WritableDb, id: string, at: string, result: PracticeResult | null): void {
  sql`UPDATE practice_attempt SET result_json = ${result && JSON.stringify(result)}, ended_at = ${at}
    WHERE id = ${id}`.run(db);
}

/** What the laboratory asks; the proposals until it has said. */
export function practiceCriteria(db: ReadableDb): PracticeCriteria {
  const row = sql`SELECT value FROM bench_setting WHERE key = ${CRITERIA_KEY}`.one(db);
  return row ? PracticeCriteria.parse(JSON.parse(String(row.value))) : PROPOSED_PRACTICE_CRITERIA;
}

export function keepPracticeCriteria(db: WritableDb, criteria: PracticeCriteria): void {
  keepSetting(db, CRITERIA_KEY, JSON.stringify(criteria));
}
