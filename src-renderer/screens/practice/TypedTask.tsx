import { useEffect, useMemo, useRef, useState } from "react";
import type { Exercise } from "#core/practice/exercises/exercise.ts";
import { whyNoNumber } from "#core/quantity/decimal-text.ts";
import { Button } from "../../parts/Button.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { DrawnView } from "./DrawnView.tsx";
import styles from "./Practice.module.css";
import { KeyList, SlideStage } from "./SlideStage.tsx";
import { movedByKey, SLIDE_KEYS } from "./slide-keys.ts";
import { type Answering, problemOf } from "./use-answering.ts";
import { useTask } from "./use-task.ts";

interface TypedTaskProps {
  readonly exercise: Exercise;
  readonly seed: number;
  readonly answering: Answering;
}

/** A task whose answer is typed: the picture, with its slide where it can be moved, and the fields. */
export function TypedTask({ exercise, seed, answering }: TypedTaskProps) {
  const { ordinal, problem, take } = answering;
  const { task, look, lookNext } = useTask(exercise, seed, ordinal);
  const moves = exercise.slide === "moved";
  const [placing, setPlacing] = useState(look.view.placing);
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const stage = useRef<HTMLElement>(null);
  const form = useRef<HTMLFormElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the slide is laid anew with the task, not with the look
  useEffect(() => {
    setPlacing(look.view.placing);
    setTyped({});
    if (moves) stage.current?.focus();
    else form.current?.querySelector("input")?.focus();
  }, [task]);
  const view = useMemo(() => (moves ? { ...look.view, placing } : look.view), [look, moves, placing]);
  const picture = (
    <DrawnView
      view={view}
      lookAtMm={look.lookAtMm}
      widthMm={look.widthMm}
      seed={seed}
      label={`View through the eyepiece: ${look.words}`}
    />
  );
  return (
    <div className={styles.eyepiece}>
      {moves ? (
        <SlideStage
          ref={stage}
          label="Slide and focus"
          onKey={(event) => {
            const move = movedByKey(event, view.optics.objective);
            if (move) setPlacing(move);
            else if (event.key === "5" || event.key === " ") lookNext();
            else return false;
            return true;
          }}
        >
          {picture}
        </SlideStage>
      ) : (
        picture
      )}
      <form
        ref={form}
        className={styles.answer}
        onSubmit={(event) => {
          event.preventDefault();
          take(Object.fromEntries(exercise.fields.map(({ name }) => [name, typed[name] ?? ""])));
        }}
      >
        {exercise.fields.map(({ name, label, unit, hint }, index) => {
          const value = typed[name] ?? "";
          const unreadable = value.trim() === "" ? null : whyNoNumber(value);
          return (
            <TextField
              key={name}
              id={`practice-${name}`}
              label={label}
              kind="number"
              unit={unit}
              autoFocus={!moves && index === 0}
              value={value}
              onChange={(text) => setTyped((now) => ({ ...now, [name]: text }))}
              hint={hint || undefined}
              error={problemOf(problem, name) ?? unreadable ?? undefined}
            />
          );
        })}
        <Button look="main" type="submit">
          {exercise.takes}
        </Button>
        {moves ? (
          <KeyList keys={[...SLIDE_KEYS, ["Space or 5", `look at the next part; now at ${look.words}`]]} />
        ) : null}
      </form>
    </div>
  );
}
