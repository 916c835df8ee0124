import type { PracticeAttempt, PracticeResult } from "#core/contract/records/practice.ts";
import { exerciseOf } from "#core/practice/exercises/all-exercises.ts";
import { decimal } from "#core/quantity/decimal.ts";

/** Scores an attempt from what is stored of it; each answer's time runs from the answer before it. */
export function scoreAttempt(attempt: PracticeAttempt): PracticeResult {
  const instants = [attempt.begunAt, ...attempt.answers.map(({ at }) => at)].map((at) => Date.parse(at));
  const seconds = attempt.answers.map((_, index) =>
    decimal((instants[index + 1] ?? 0) - (instants[index] ?? 0)).div(1000),
  );
  const { score } = exerciseOf(attempt);
  return score(
    attempt.seed,
    attempt.answers.map(({ typed }, index) => ({ typed, seconds: seconds[index] ?? decimal(0) })),
    attempt.criteria,
  );
}
