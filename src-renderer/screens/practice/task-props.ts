import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import type { Exercise } from "#core/practice/exercises/exercise.ts";
import type { Answering } from "./use-answering.ts";

/** What every way of answering a task is given. */
export interface TaskProps {
  readonly exercise: Exercise;
  readonly attempt: PracticeAttempt;
  readonly answering: Answering;
}
