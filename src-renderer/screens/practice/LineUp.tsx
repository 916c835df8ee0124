import { useEffect, useMemo, useRef, useState } from "react";
import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { lineUp } from "#core/practice/exercises/line-up.ts";
import { memberAt } from "#core/statistics/sample.ts";
import { Button } from "../../parts/Button.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { DrawnView } from "./DrawnView.tsx";
import styles from "./Practice.module.css";
import { KeyList, SlideStage } from "./SlideStage.tsx";
import { movedByKey, SLIDE_KEYS } from "./slide-keys.ts";
import { type Answering, problemOf } from "./use-answering.ts";

/** Where the eye rests: on the whole scale, on its left half, on its right half. */
const LOOKS = [
  { words: "the whole scale", lookAtMm: [0, 0], widthMm: 11 },
  { words: "the left end", lookAtMm: [-3.2, 0], widthMm: 4.4 },
  { words: "the right end", lookAtMm: [3.2, 0], widthMm: 4.4 },
] as const;

const FIELDS = [
  { name: "reticleFrom", label: "Scale, left", unit: "div" },
  { name: "lineFrom", label: "Line of the slide, left", unit: "µm" },
  { name: "reticleTo", label: "Scale, right", unit: "div" },
  { name: "lineTo", label: "Line of the slide, right", unit: "µm" },
] as const;

const EMPTY = { reticleFrom: "", lineFrom: "", reticleTo: "", lineTo: "" };

/** The slide to bring to the scale, and the four fields of a setting. */
export function LineUp({ attempt, answering }: { attempt: PracticeAttempt; answering: Answering }) {
  const { ordinal, problem, take } = answering;
  const task = useMemo(() => lineUp.task(attempt.seed, ordinal).view, [attempt.seed, ordinal]);
  const [placing, setPlacing] = useState(task.placing);
  const [look, setLook] = useState(0);
  const [typed, setTyped] = useState(EMPTY);
  const stage = useRef<HTMLElement>(null);
  useEffect(() => {
    setPlacing(task.placing);
    setTyped(EMPTY);
    setLook(0);
    stage.current?.focus();
  }, [task]);
  const view = useMemo(() => ({ ...task, placing }), [task, placing]);
  const { lookAtMm, widthMm, words } = memberAt(LOOKS, look);

  return (
    <div className={styles.eyepiece}>
      <SlideStage
        ref={stage}
        onKey={(event) => {
          const move = movedByKey(event, task.optics.objective);
          if (move) setPlacing(move);
          else if (event.key === "5" || event.key === " ") setLook((look + 1) % LOOKS.length);
          else return false;
          return true;
        }}
      >
        <DrawnView
          view={view}
          lookAtMm={lookAtMm}
          widthMm={widthMm}
          seed={attempt.seed}
          label={`View through the eyepiece at ${words}: a stage micrometer, lines every 10 µm, under the reticle scale`}
        />
      </SlideStage>
      <form
        className={styles.answer}
        onSubmit={(event) => {
          event.preventDefault();
          take(typed);
        }}
      >
        {FIELDS.map(({ name, label, unit }) => (
          <TextField
            key={name}
            id={`practice-${name}`}
            label={label}
            kind="number"
            unit={unit}
            value={typed[name]}
            onChange={(value) => setTyped((now) => ({ ...now, [name]: value }))}
            error={problemOf(problem, name)}
          />
        ))}
        <Button look="main" type="submit">
          Take the setting
        </Button>
        <KeyList keys={[...SLIDE_KEYS, ["Space or 5", `look at the next part; now at ${words}`]]} />
      </form>
    </div>
  );
}
