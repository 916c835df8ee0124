import { useEffect, useRef, useState } from "react";
import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { tenths } from "#core/practice/exercises/tenths.ts";
import { whyNoNumber } from "#core/quantity/decimal-text.ts";
import { Button } from "../../parts/Button.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { DrawnView } from "./DrawnView.tsx";
import styles from "./Practice.module.css";
import { type Answering, problemOf } from "./use-answering.ts";

/** A division of the reticle is about as wide on the screen as it looks through an eyepiece. */
const WIDTH_MM = 4.2;

/** One line, and the field for its reading. */
export function ReadTenths({ attempt, answering }: { attempt: PracticeAttempt; answering: Answering }) {
  const { ordinal, problem, take } = answering;
  const [typed, setTyped] = useState("");
  const field = useRef<HTMLFormElement>(null);
  const [drawn, setDrawn] = useState(() => tenths.task(attempt.seed, ordinal));
  useEffect(() => {
    setDrawn(tenths.task(attempt.seed, ordinal));
    setTyped("");
    field.current?.querySelector("input")?.focus();
  }, [attempt.seed, ordinal]);

  const unreadable = typed.trim() === "" ? null : whyNoNumber(typed);
  return (
    <div className={styles.eyepiece}>
      <DrawnView
        view={drawn.view}
        lookAtMm={drawn.lookAtMm}
        widthMm={WIDTH_MM}
        seed={attempt.seed}
        label="View through the eyepiece: one line crosses the reticle scale"
      />
      <form
        ref={field}
        className={styles.answer}
        onSubmit={(event) => {
          event.preventDefault();
          take({ reading: typed });
        }}
      >
        <TextField
          id="practice-reading"
          label="Reading"
          kind="number"
          unit="div"
          autoFocus
          value={typed}
          onChange={setTyped}
          hint="To a tenth, as 43.7. Enter takes it and shows the next line."
          error={problemOf(problem, "reading") ?? unreadable ?? undefined}
        />
        <Button look="main" type="submit">
          Take
        </Button>
      </form>
    </div>
  );
}
