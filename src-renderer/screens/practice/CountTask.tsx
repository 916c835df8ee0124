import { useLayoutEffect, useMemo, useRef, useState } from "react";
import { textOfPresses } from "#core/practice/exercises/count.ts";
import { FRAME_MM } from "#core/practice/exercises/count-field.ts";
import type { Press } from "#core/practice/exercises/press-matching.ts";
import { micrometresPerMm } from "#core/practice/view/scene.ts";
import { Button } from "../../parts/Button.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { playTone } from "../../sound/window-sound.ts";
import { DrawnView } from "./DrawnView.tsx";
import styles from "./Practice.module.css";
import { KeyList, SlideStage } from "./SlideStage.tsx";
import type { TaskProps } from "./task-props.ts";
import { problemOf } from "./use-answering.ts";
import { useTask } from "./use-task.ts";

/** How far the hairline goes at a key, mm on the reticle; the far keys go five times as far. */
const STEP_MM = 0.08;
const FAR = 5;
/** It stops half an object beyond the square. */
const MOST_MM = FRAME_MM / 2 + 0.24;

const STEPS_OF_KEY: Readonly<Record<string, number>> = {
  ArrowRight: 1,
  "6": 1,
  ArrowLeft: -1,
  "4": -1,
  "9": FAR,
  "7": -FAR,
};

const KEYS = [
  ["← → or 4 6", "move the line (Shift, or 7 9: five times as far)"],
  ["1 2", "press for an object of that kind"],
  ["− or Backspace", "take the last press back"],
  ["Enter", "next field"],
] as const;

/** A field to count with the keys of Count, a hairline saying which object each press is for. */
export function CountTask({ exercise, attempt: { seed }, answering }: TaskProps) {
  const { ordinal, problem, take } = answering;
  const { task, look } = useTask(exercise, seed, ordinal);
  const [hairlineMm, setHairline] = useState(-FRAME_MM / 2);
  const [presses, setPresses] = useState<readonly Press[]>([]);
  const stage = useRef<HTMLElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new field begins at its left edge
  useLayoutEffect(() => {
    setHairline(-FRAME_MM / 2);
    setPresses([]);
    stage.current?.focus();
  }, [task]);
  const view = useMemo(() => {
    const { optics } = look.view;
    const hairline = { atMm: hairlineMm, lengthMm: 1.08 * FRAME_MM };
    return { ...look.view, optics: { ...optics, reticle: { ...optics.reticle, hairline } } };
  }, [look, hairlineMm]);

  const move = (steps: number): void =>
    setHairline((now) => Math.min(MOST_MM, Math.max(-MOST_MM, now + steps * STEP_MM)));
  const press = (kind: Press["kind"]): void => {
    playTone("taken");
    setPresses((now) => [...now, { kind, atUm: hairlineMm * micrometresPerMm(view.optics) }]);
  };
  const next = (): void => take({ presses: textOfPresses(presses) });
  const ofKind = (kind: Press["kind"]): number => presses.filter((one) => one.kind === kind).length;
  const refused = problemOf(problem, "presses");

  return (
    <div className={styles.eyepiece}>
      <SlideStage
        ref={stage}
        label="Field"
        onKey={({ key, shiftKey }) => {
          const steps = STEPS_OF_KEY[key];
          if (steps !== undefined) move(steps * (shiftKey ? FAR : 1));
          else if (key === "1" || key === "2") press(key);
          else if (key === "-" || key === "Backspace") setPresses((now) => now.slice(0, -1));
          else if (key === "Enter") next();
          else return false;
          return true;
        }}
      >
        <DrawnView
          view={view}
          lookAtMm={look.lookAtMm}
          widthMm={look.widthMm}
          seed={seed}
          label={`View through the eyepiece: ${look.words}`}
        />
      </SlideStage>
      <div className={styles.answer}>
        <p role="status" className={styles.verdict}>
          Kind 1: {ofKind("1")} · Kind 2: {ofKind("2")}
        </p>
        {refused ? <p role="alert">Presses {refused}.</p> : null}
        <Button look="main" onClick={next}>
          {exercise.takes}
        </Button>
        <div className={styles.entered}>
          <Facts facts={task.facts} />
        </div>
        <KeyList keys={KEYS} />
      </div>
    </div>
  );
}
