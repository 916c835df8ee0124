import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import type { ExerciseName } from "#core/vocabulary/practice.ts";
import { Button } from "../../parts/Button.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { LineUp } from "./LineUp.tsx";
import { ReadTenths } from "./ReadTenths.tsx";
import { type Answering, useAnswering } from "./use-answering.ts";

const VIEW_OF: Readonly<
  Record<ExerciseName, (props: { attempt: PracticeAttempt; answering: Answering }) => React.ReactNode>
> = { tenths: ReadTenths, "line-up": LineUp };

/** An attempt under way. */
export function AtTheEyepiece({ attempt, onEnded }: { attempt: PracticeAttempt; onEnded: () => void }) {
  const { title, does, tasks } = exerciseNamed(attempt.exercise);
  const answering = useAnswering(attempt, onEnded);
  const View = VIEW_OF[attempt.exercise];
  const { problem, ordinal, giveUp } = answering;
  if (ordinal > tasks) return null;
  return (
    <Panel
      title={`${title}: ${ordinal} of ${tasks}`}
      lead={does}
      actions={<Button onClick={giveUp}>Give up this attempt</Button>}
    >
      <View attempt={attempt} answering={answering} />
      {problem && !problem.field ? (
        <Notice kind="fault" live title={problem.message} hint={problem.hint} />
      ) : null}
    </Panel>
  );
}
