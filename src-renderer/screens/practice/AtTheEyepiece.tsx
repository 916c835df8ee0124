import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { exerciseOf } from "#core/practice/exercises/all-exercises.ts";
import { Button } from "../../parts/Button.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { ChosenTask } from "./ChosenTask.tsx";
import { TypedTask } from "./TypedTask.tsx";
import { useAnswering } from "./use-answering.ts";

/** An attempt under way. */
export function AtTheEyepiece({ attempt, onEnded }: { attempt: PracticeAttempt; onEnded: () => void }) {
  const exercise = exerciseOf(attempt);
  const answering = useAnswering(attempt, onEnded);
  const { problem, ordinal, giveUp } = answering;
  if (ordinal > exercise.tasks) return null;
  const View = exercise.fields.every(({ choices }) => choices) ? ChosenTask : TypedTask;
  return (
    <Panel
      title={`${exercise.title}: ${ordinal} of ${exercise.tasks}`}
      lead={exercise.does}
      actions={<Button onClick={giveUp}>Give up this attempt</Button>}
    >
      <View exercise={exercise} seed={attempt.seed} answering={answering} />
      {problem && !problem.field ? (
        <Notice kind="fault" live title={problem.message} hint={problem.hint} />
      ) : null}
    </Panel>
  );
}
