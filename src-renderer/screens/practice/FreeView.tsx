import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from "react";
import {
  FREE_OBJECTIVES,
  FREE_RULING,
  freeOptics,
  freePlacing,
  freeTruth,
} from "#core/practice/free-view.ts";
import type { Placing } from "#core/practice/view/scene.ts";
import { memberAt } from "#core/statistics/sample.ts";
import { Button } from "../../parts/Button.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { DrawnView } from "./DrawnView.tsx";
import styles from "./Practice.module.css";

/** The whole scale and some of the field beside it. */
const WIDTH_MM = 11;
/** How far one key moves the image, mm on the reticle: a seventh of a division. */
const STEP_MM = 0.014;
const MIDDLE = [0, 0] as const;

/** What each key does, for the hand on the keypad and for the arrows. */
const KEYS = [
  ["← → ↑ ↓ or 4 6 8 2", "move the slide (Shift: ten times as far)"],
  ["Home End or 7 1", "turn the slide"],
  ["PageUp PageDown or 9 3", "focus"],
  ["+ −", "next objective"],
  ["Enter or 5", "show or hide the truth"],
] as const;

type Move = (placing: Placing, step: number) => Placing;

const slide =
  (x: number, y: number): Move =>
  (placing, step) => ({
    ...placing,
    xUm: placing.xUm + x * step,
    yUm: placing.yUm + y * step,
  });
const turn =
  (by: number): Move =>
  (placing) => ({
    ...placing,
    turnedDeg: Math.round((placing.turnedDeg + by) * 10) / 10,
  });
const focus =
  (by: number): Move =>
  (placing, step) => ({
    ...placing,
    outOfFocusUm: placing.outOfFocusUm + by * step,
  });

const MOVE_OF_KEY: Readonly<Record<string, Move>> = {
  ArrowLeft: slide(-1, 0),
  "4": slide(-1, 0),
  ArrowRight: slide(1, 0),
  "6": slide(1, 0),
  ArrowUp: slide(0, 1),
  "8": slide(0, 1),
  ArrowDown: slide(0, -1),
  "2": slide(0, -1),
  Home: turn(0.1),
  "7": turn(0.1),
  End: turn(-0.1),
  "1": turn(-0.1),
  PageUp: focus(1),
  "9": focus(1),
  PageDown: focus(-1),
  "3": focus(-1),
};

/** The slide and the scale to play with: nothing is recorded, and the truth can be shown. */
export function FreeView() {
  const [turret, setTurret] = useState(1);
  const objective = memberAt(FREE_OBJECTIVES, turret);
  const [placing, setPlacing] = useState<Placing>(() => freePlacing(objective));
  const [shown, setShown] = useState(false);
  const stage = useRef<HTMLElement>(null);
  useEffect(() => stage.current?.focus(), []);
  const optics = useMemo(() => freeOptics(objective), [objective]);
  const view = useMemo(() => ({ ruling: FREE_RULING, placing, optics }), [placing, optics]);

  const change = (by: number): void => {
    const next = (turret + by + FREE_OBJECTIVES.length) % FREE_OBJECTIVES.length;
    setTurret(next);
    setPlacing(freePlacing(memberAt(FREE_OBJECTIVES, next)));
  };
  const answer = (event: KeyboardEvent): void => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.target !== event.currentTarget) return;
    const move = MOVE_OF_KEY[event.key];
    const step = ((event.shiftKey ? 10 : 1) * STEP_MM * 1000) / objective.objective;
    if (move) setPlacing((now) => move(now, step));
    else if (event.key === "+") change(1);
    else if (event.key === "-") change(-1);
    else if (event.key === "Enter" || event.key === "5") setShown((now) => !now);
    else return;
    event.preventDefault();
  };

  return (
    <Panel
      title={`Free view: ${objective.objective}× / ${objective.na}`}
      lead="1 mm in 100 parts, an invented microscope; nothing is recorded."
      actions={
        <Button onClick={() => setShown(!shown)}>{shown ? "Hide the truth" : "Show the truth"}</Button>
      }
    >
      <div className={styles.eyepiece}>
        <section
          ref={stage}
          // biome-ignore lint/a11y/noNoninteractiveTabindex: the view takes the keys, as a slide takes the hand
          tabIndex={0}
          className={styles.stage}
          aria-label="Slide and focus"
          onKeyDown={answer}
        >
          <DrawnView
            view={view}
            lookAtMm={MIDDLE}
            widthMm={WIDTH_MM}
            seed={0}
            label="View through the eyepiece: a stage micrometer under the reticle scale"
          />
        </section>
        <div className={styles.answer}>
          <dl className={styles.keys}>
            {KEYS.map(([keys, words]) => (
              <div key={keys}>
                <dt>{keys}</dt>
                <dd>{words}</dd>
              </div>
            ))}
          </dl>
          {shown ? <Truth view={view} /> : null}
        </div>
      </div>
    </Panel>
  );
}

function Truth({
  view: { optics, placing },
}: {
  view: { optics: ReturnType<typeof freeOptics>; placing: Placing };
}) {
  const { factorUm, span } = freeTruth(optics, placing);
  return (
    <div className={styles.truth} role="status">
      <p>1 div is {factorUm.toFixed(3)} µm in the middle of this field.</p>
      {span ? (
        <p>
          The slide’s {span[0].atUm} µm line crosses the scale at {span[0].divisions.toFixed(2)} div, its{" "}
          {span[1].atUm} µm line at {span[1].divisions.toFixed(2)} div.
        </p>
      ) : (
        <p>Fewer than two lines of the slide cross the scale.</p>
      )}
      <p>
        Turned by {placing.turnedDeg.toFixed(1).replace("-", "−")}°; focus off by{" "}
        {Math.abs(placing.outOfFocusUm).toFixed(2)} µm.
      </p>
    </div>
  );
}
