import { useMemo, useState } from "react";
import type { Exercise, Look, Task } from "#core/practice/exercises/exercise.ts";
import { memberAt } from "#core/statistics/sample.ts";

/** One task of an attempt and the look that is taken at it. */
export interface TaskAtWork {
  readonly task: Task;
  readonly look: Look;
  readonly lookNext: () => void;
}

/** The task of an ordinal; a new one is looked at from its first look. */
export function useTask(exercise: Exercise, seed: number, ordinal: number): TaskAtWork {
  const task = useMemo(() => exercise.task(seed, ordinal), [exercise, seed, ordinal]);
  const [at, setAt] = useState({ task, look: 0 });
  const look = at.task === task ? at.look : 0;
  return {
    task,
    look: memberAt(task.looks, look),
    lookNext: () => setAt({ task, look: (look + 1) % task.looks.length }),
  };
}
