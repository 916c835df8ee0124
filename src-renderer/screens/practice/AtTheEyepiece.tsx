import { type FormEvent, useEffect, useRef, useState } from "react";
import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import type { CallError } from "#core/contract/reply.ts";
import { exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import { whyNoNumber } from "#core/quantity/decimal-text.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { newRequestId } from "../../bridge/request-id.ts";
import { Button } from "../../parts/Button.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { playTone } from "../../sound/window-sound.ts";
import { DrawnView } from "./DrawnView.tsx";
import styles from "./Practice.module.css";

/** A division of the reticle is about as wide on the screen as it looks through an eyepiece. */
const WIDTH_MM = 4.2;

/** An attempt under way: the next picture, and the reading typed under it. Each answer is stored before the next picture. */
export function AtTheEyepiece({ attempt, onEnded }: { attempt: PracticeAttempt; onEnded: () => void }) {
  const client = useClient();
  const exercise = exerciseNamed(attempt.exercise);
  const ordinal = attempt.answers.length + 1;
  const [typed, setTyped] = useState("");
  const [problem, setProblem] = useState<CallError | null>(null);
  const request = useRef<{ id: string; of: string } | null>(null);
  const busy = useRef(false);
  const field = useRef<HTMLFormElement>(null);
  const [drawn, setDrawn] = useState(() => exercise.task(attempt.seed, Math.min(ordinal, exercise.tasks)));
  useEffect(() => {
    if (ordinal > exercise.tasks) return;
    setDrawn(exercise.task(attempt.seed, ordinal));
    setTyped("");
    field.current?.querySelector("input")?.focus();
  }, [exercise, attempt.seed, ordinal]);

  const refuse = (error: CallError): void => {
    playTone("refused");
    setProblem(error);
  };

  const take = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    if (busy.current) return;
    busy.current = true;
    // The same answer sent again after a lost reply is stored once.
    const of = `${ordinal} ${typed}`;
    if (request.current?.of !== of) request.current = { id: newRequestId(), of };
    const reply = await client("practice.answer", {
      requestId: request.current.id,
      attemptId: attempt.id,
      ordinal,
      typed: { reading: typed },
    });
    busy.current = false;
    if (!reply.ok) return refuse(reply.error);
    playTone("taken");
    setProblem(null);
    if (reply.value.endedAt !== null) onEnded();
  };

  const giveUp = async (): Promise<void> => {
    const reply = await client("practice.giveUp", { requestId: newRequestId(), attemptId: attempt.id });
    if (reply.ok) onEnded();
    else refuse(reply.error);
  };

  const unreadable = typed.trim() === "" ? null : whyNoNumber(typed);
  return (
    <Panel
      title={`${exercise.title}: reading ${Math.min(ordinal, exercise.tasks)} of ${exercise.tasks}`}
      lead={exercise.does}
      actions={<Button onClick={() => void giveUp()}>Give up this attempt</Button>}
    >
      <div className={styles.eyepiece}>
        <DrawnView
          view={drawn.view}
          lookAtMm={drawn.lookAtMm}
          widthMm={WIDTH_MM}
          seed={attempt.seed}
          label="View through the eyepiece: one line crosses the reticle scale"
        />
        <form ref={field} className={styles.answer} onSubmit={(event) => void take(event)}>
          <TextField
            id="practice-reading"
            label="Reading"
            kind="number"
            unit="div"
            autoFocus
            value={typed}
            onChange={setTyped}
            hint="To a tenth, as 43.7. Enter takes it and shows the next line."
            error={problem?.field ? problem.message : (unreadable ?? undefined)}
          />
          <Button look="main" type="submit">
            Take
          </Button>
        </form>
        {problem && !problem.field ? (
          <Notice kind="fault" live title={problem.message} hint={problem.hint} />
        ) : null}
      </div>
    </Panel>
  );
}
