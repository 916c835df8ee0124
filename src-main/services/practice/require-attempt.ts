import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findAttempt } from "../../store/repositories/practice-repository.ts";

/** @throws Refusal `attempt.unknown` */
export function requireAttempt(db: ReadableDb, id: string): PracticeAttempt {
  const attempt = findAttempt(db, id);
  if (attempt) return attempt;
  throw new Refusal("attempt.unknown", "That attempt is not on this bench.", { field: "attemptId" });
}
