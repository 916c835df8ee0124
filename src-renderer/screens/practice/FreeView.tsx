import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from "react";
import {
  FREE_OBJECTIVES,
  FREE_RULING,
  freeOptics,
  freePlacing,
  freeTruth,
  nextStep,
} from "#core/practice/free-view.ts";
import type { Placing } from "#core/practice/view/scene.ts";
import { memberAt } from "#core/statistics/sample.ts";
import { Button } from "../../parts/Button.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { DrawnView } from "./DrawnView.tsx";
import styles from "./Practice.module.css";
import { KeyList, SlideStage } from "./SlideStage.tsx";
import { movedByKey, SLIDE_KEYS } from "./slide-keys.ts";

/** The whole scale and some of the field beside it. */
const WIDTH_MM = 11;
const MIDDLE = [0, 0] as const;

const KEYS = [
  ...SLIDE_KEYS,
  ["+ −", "next objective"],
  ["Enter or 5", "show or hide the truth"],
  ["H", "hints: what to do next"],
  ["S or *", "show me: the next step is done for you"],
  ["P", "large, for a projector; P again, back"],
] as const;

const READ_NOW =
  "Read where two lines of the slide, far apart, cross the scale: their distance in µm by the divisions between them is the factor.";

/** The slide and the scale to play with: nothing is recorded; hints, the next step and the truth can be shown. */
export function FreeView() {
  const [turret, setTurret] = useState(1);
  const objective = memberAt(FREE_OBJECTIVES, turret);
  const [placing, setPlacing] = useState<Placing>(() => freePlacing(objective));
  const [shown, setShown] = useState(false);
  const [hints, setHints] = useState(false);
  const [large, setLarge] = useState(false);
  const stage = useRef<HTMLElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: keys go on where the view has moved
  useEffect(() => stage.current?.focus(), [large]);
  const optics = useMemo(() => freeOptics(objective), [objective]);
  const view = useMemo(() => ({ ruling: FREE_RULING, placing, optics }), [placing, optics]);

  const change = (by: number): void => {
    const next = (turret + by + FREE_OBJECTIVES.length) % FREE_OBJECTIVES.length;
    setTurret(next);
    setPlacing(freePlacing(memberAt(FREE_OBJECTIVES, next)));
  };
  const next = nextStep(optics, placing);
  const showMe = (): void => {
    setHints(true);
    if (next) setPlacing(next.done);
  };
  const answer = (event: KeyboardEvent): boolean => {
    const move = movedByKey(event, objective.objective);
    if (move) setPlacing(move);
    else if (event.key === "+") change(1);
    else if (event.key === "-") change(-1);
    else if (event.key === "Enter" || event.key === "5") setShown((now) => !now);
    else if (event.key.toLowerCase() === "h") setHints((now) => !now);
    else if (event.key.toLowerCase() === "s" || event.key === "*") showMe();
    else if (event.key.toLowerCase() === "p") setLarge((now) => !now);
    else return false;
    return true;
  };

  return (
    <Panel
      title={`Free view: ${objective.objective}× / ${objective.na}`}
      lead="1 mm in 100 parts, an invented microscope; nothing is recorded."
      actions={
        <>
          <Button onClick={() => setLarge(true)}>Large, for a projector</Button>
          <Button onClick={() => setHints(!hints)}>{hints ? "No hints" : "Hints"}</Button>
          <Button onClick={showMe}>Show me</Button>
          <Button onClick={() => setShown(!shown)}>{shown ? "Hide the truth" : "Show the truth"}</Button>
        </>
      }
    >
      <div className={large ? `${styles.eyepiece} ${styles.projector}` : styles.eyepiece}>
        <SlideStage ref={stage} label="Slide and focus" onKey={answer}>
          <DrawnView
            view={view}
            lookAtMm={MIDDLE}
            widthMm={WIDTH_MM}
            seed={0}
            label="View through the eyepiece: a stage micrometer under the reticle scale"
          />
        </SlideStage>
        <div className={styles.answer}>
          {large ? <Button onClick={() => setLarge(false)}>Back from the projector</Button> : null}
          {hints ? <p role="status">{next ? next.words : READ_NOW}</p> : null}
          <KeyList keys={KEYS} />
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
      <p>1 div is {factorUm.toFixed(3)}&nbsp;µm in the middle of this field.</p>
      {span ? (
        <p>
          The slide’s {span[0].atUm}&nbsp;µm line crosses the scale at {span[0].divisions.toFixed(2)}
          &nbsp;div, its {span[1].atUm}&nbsp;µm line at {span[1].divisions.toFixed(2)}&nbsp;div.
        </p>
      ) : (
        <p>Fewer than two lines of the slide cross the scale.</p>
      )}
      <p>
        Turned by {placing.turnedDeg.toFixed(1).replace("-", "−")}°; focus off by{" "}
        {Math.abs(placing.outOfFocusUm).toFixed(2)}&nbsp;µm.
      </p>
    </div>
  );
}
