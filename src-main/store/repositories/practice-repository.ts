import {
  PROPOSED_PRACTICE_CRITERIA,
  PracticeAnswer,
  PracticeAttempt,
  PracticeCriteria,
  type PracticeResult,
} from "#core/contract/records/practice.ts";
import { all, insert, one, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";
import { keepSetting } from "./laboratory-repository.ts";

const ATTEMPT = `SELECT id, exercise, version, seed, person_id AS "personId", criteria_json AS criteria,
  begun_at AS "begunAt", result_json AS result, ended_at AS "endedAt" FROM practice_attempt`;
const CRITERIA_KEY = "practice";

function answersOf(db: ReadableDb, attemptId: string): PracticeAnswer[] {
  return all(
    db,
    "SELECT ordinal, typed_json AS typed, at FROM practice_answer WHERE attempt_id = ? ORDER BY ordinal",
    attemptId,
  ).map((row) => PracticeAnswer.parse({ ...row, typed: JSON.parse(String(row.typed)) }));
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
  const row = one(db, `${ATTEMPT} WHERE id = ?`, id);
  return row ? attemptOf(db, row) : null;
}

/** Newest first; of one person, or of all. */
export function listAttempts(db: ReadableDb, personId: string | null): PracticeAttempt[] {
  const rows =
    personId === null
      ? all(db, `${ATTEMPT} ORDER BY begun_at DESC, rowid DESC`)
      : all(db, `${ATTEMPT} WHERE person_id = ? ORDER BY begun_at DESC, rowid DESC`, personId);
  return rows.map((row) => attemptOf(db, row));
}

/** The attempt of a person at an exercise that is neither scored nor given up. */
export function attemptUnderWay(db: ReadableDb, personId: string, exercise: string): PracticeAttempt | null {
  const row = one(
    db,
    `${ATTEMPT} WHERE person_id = ? AND exercise = ? AND ended_at IS NULL ORDER BY begun_at DESC, rowid DESC LIMIT 1`,
    personId,
    exercise,
  );
  return row ? attemptOf(db, row) : null;
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
  run(
    db,
    "UPDATE practice_attempt SET result_json = ?, ended_at = ? WHERE id = ?",
    result && JSON.stringify(result),
    at,
    id,
  );
}

/** What the laboratory asks; the proposals until it has said. */
export function practiceCriteria(db: ReadableDb): PracticeCriteria {
  const row = one(db, "SELECT value FROM bench_setting WHERE key = ?", CRITERIA_KEY);
  return row ? PracticeCriteria.parse(JSON.parse(String(row.value))) : PROPOSED_PRACTICE_CRITERIA;
}

export function keepPracticeCriteria(db: WritableDb, criteria: PracticeCriteria): void {
  keepSetting(db, CRITERIA_KEY, JSON.stringify(criteria));
}
