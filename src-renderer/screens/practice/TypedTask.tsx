import { useLayoutEffect, useMemo, useRef, useState } from "react";
import type { Exercise } from "#core/practice/exercises/exercise.ts";
import { whyNoNumber } from "#core/quantity/decimal-text.ts";
import { Button } from "../../parts/Button.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { DrawnView } from "./DrawnView.tsx";
import styles from "./Practice.module.css";
import { KeyList, SlideStage } from "./SlideStage.tsx";
import { movedByKey, SLIDE_KEYS } from "./slide-keys.ts";
import type { TaskProps } from "./task-props.ts";
import { problemOf } from "./use-answering.ts";
import { notesOf, useTask } from "./use-task.ts";

type Typed = Readonly<Record<string, string>>;

/** What the fields of the next answer hold at first: nothing, or what stays from answer to answer. */
function heldAtFirst({ fields }: Exercise, last: Typed): Typed {
  return Object.fromEntries(
    fields.flatMap(({ name, carried }) => (carried === null ? [] : [[name, last[name] ?? carried]])),
  );
}

/** A task whose answer is typed: the picture, with its slide where it can be moved, and the fields. */
export function TypedTask({ exercise, attempt: { seed, answers }, answering }: TaskProps) {
  const { ordinal, problem, take } = answering;
  const atWork = useTask(exercise, seed, ordinal);
  const { task, look, lookNext } = atWork;
  const moves = exercise.slide === "moved";
  const [placing, setPlacing] = useState(look.view.placing);
  const [typed, setTyped] = useState(() => heldAtFirst(exercise, answers.at(-1)?.typed ?? {}));
  const stage = useRef<HTMLElement>(null);
  const form = useRef<HTMLFormElement>(null);
  // Before the next picture is seen: what is typed at its sight must not be emptied afterwards.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the slide is laid anew with the task, not with the look
  useLayoutEffect(() => {
    setPlacing(look.view.placing);
    setTyped((now) => heldAtFirst(exercise, now));
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
            else if (["5", " ", "+"].includes(event.key)) lookNext();
            else if (event.key === "Enter") form.current?.querySelector("input")?.focus();
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
          if (toNextEmpty(event.currentTarget)) return;
          const answer = Object.fromEntries(exercise.fields.map(({ name }) => [name, typed[name] ?? ""]));
          take({ ...answer, ...notesOf(exercise, atWork, view.placing.turnedDeg) });
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
        {task.facts.length > 0 ? (
          <div className={styles.entered}>
            <Facts facts={task.facts} />
          </div>
        ) : null}
        {moves ? (
          <KeyList
            keys={[
              ...SLIDE_KEYS,
              ["Space 5 or +", `next look; now at ${look.words}`],
              ["Enter", "to the fields"],
            ]}
          />
        ) : null}
      </form>
    </div>
  );
}

/** Enter in a filled field goes on to the next empty one, as in a row of Measure. @returns whether there was one */
function toNextEmpty(form: HTMLFormElement): boolean {
  const inputs = [...form.querySelectorAll("input")];
  const here = inputs.find((input) => input === document.activeElement);
  const empty = inputs.find((input) => input.value.trim() === "");
  if (!here || !empty || here === empty) return false;
  empty.focus();
  return true;
}
