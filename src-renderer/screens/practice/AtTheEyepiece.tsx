import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { exerciseOf } from "#core/practice/exercises/all-exercises.ts";
import type { Exercise } from "#core/practice/exercises/exercise.ts";
import { Button } from "../../parts/Button.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { ChosenTask } from "./ChosenTask.tsx";
import { CountTask } from "./CountTask.tsx";
import { TypedTask } from "./TypedTask.tsx";
import type { TaskProps } from "./task-props.ts";
import { useAnswering } from "./use-answering.ts";

const TASK_OF: Readonly<Record<Exercise["way"], (props: TaskProps) => React.ReactNode>> = {
  typed: TypedTask,
  chosen: ChosenTask,
  pressed: CountTask,
};

/** An attempt under way. */
export function AtTheEyepiece({ attempt, onEnded }: { attempt: PracticeAttempt; onEnded: () => void }) {
  const exercise = exerciseOf(attempt);
  const answering = useAnswering(attempt, onEnded);
  const { problem, ordinal, giveUp } = answering;
  if (ordinal > exercise.tasks) return null;
  const View = TASK_OF[exercise.way];
  return (
    <Panel
      title={`${exercise.title}: ${ordinal} of ${exercise.tasks}`}
      lead={exercise.does}
      actions={<Button onClick={giveUp}>Give up this attempt</Button>}
    >
      <View exercise={exercise} attempt={attempt} answering={answering} />
      {problem && !problem.field ? <RefusalNotice error={problem} /> : null}
    </Panel>
  );
}
