import { useMemo, useState } from "react";
import type { Exercise, Look, Task } from "#core/practice/exercises/exercise.ts";
import { memberAt } from "#core/statistics/sample.ts";

/** One task of an attempt and the look that is taken at it. */
export interface TaskAtWork {
  readonly task: Task;
  readonly look: Look;
  /** Number of different looks taken so far. */
  readonly taken: number;
  readonly lookAt: (look: Look) => void;
  readonly lookNext: () => void;
}

/** What the program notes with an answer. @param turnedDeg of the slide as it lies now */
export function notesOf(
  exercise: Exercise,
  { look, taken }: TaskAtWork,
  turnedDeg: number,
): Readonly<Record<string, string>> {
  const noted = { looks: String(taken), look: look.words, turned: turnedDeg.toFixed(1) };
  return Object.fromEntries(exercise.notes.map((name) => [name, noted[name]]));
}

/** The task of an ordinal; a new one is looked at from its first look. */
export function useTask(exercise: Exercise, seed: number, ordinal: number): TaskAtWork {
  const task = useMemo(() => exercise.task(seed, ordinal), [exercise, seed, ordinal]);
  const first = memberAt(task.looks, 0);
  const [at, setAt] = useState({ task, look: first, taken: new Set([first]) });
  const { look, taken } = at.task === task ? at : { look: first, taken: new Set([first]) };
  const lookAt = (next: Look): void => setAt({ task, look: next, taken: new Set([...taken, next]) });
  return {
    task,
    look,
    taken: taken.size,
    lookAt,
    lookNext: () => lookAt(memberAt(task.looks, (task.looks.indexOf(look) + 1) % task.looks.length)),
  };
}
