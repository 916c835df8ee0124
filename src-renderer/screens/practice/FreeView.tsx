import { type KeyboardEvent, useLayoutEffect, useMemo, useRef, useState } from "react";
import { DISTURBANCES, FREE_SLIDES, type FreeSlide } from "#core/practice/free-slides.ts";
import { FREE_OBJECTIVES, freeOptics, freePlacing, freeTruth, nextStep } from "#core/practice/free-view.ts";
import type { View } from "#core/practice/view/render-view.ts";
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
  ["/", "another slide"],
  ["D", "something that spoils the view"],
  ["Enter or 5", "show or hide the truth"],
  ["H", "hints: what to do next"],
  ["S or *", "show me: the next step is done for you"],
  ["P", "large, for a projector; P again, back"],
] as const;

const READ_NOW =
  "Read where two lines of the slide, far apart, cross the scale: their distance in µm by the divisions between them is the factor.";

const LOOK_NOW = "Lay an object along the scale and read both of its outer edges.";

/** The slide and the scale to play with: nothing is recorded; hints, the next step and the truth can be shown. */
export function FreeView() {
  const [turret, setTurret] = useState(1);
  const objective = memberAt(FREE_OBJECTIVES, turret);
  const [placing, setPlacing] = useState<Placing>(() => freePlacing(objective));
  const [slideAt, setSlide] = useState(0);
  const slide = memberAt(FREE_SLIDES, slideAt % FREE_SLIDES.length);
  const [disturbedAt, setDisturbed] = useState(0);
  const disturbed = memberAt(DISTURBANCES, disturbedAt % DISTURBANCES.length);
  const [shown, setShown] = useState(false);
  const [hints, setHints] = useState(false);
  const [large, setLarge] = useState(false);
  const stage = useRef<HTMLElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: keys go on where the view has moved
  useLayoutEffect(() => stage.current?.focus(), [large]);
  const view = useMemo(() => {
    const spoilt = disturbed.of(freeOptics(objective));
    return { ...slide.shows, placing: { ...placing, ...spoilt.placing }, optics: spoilt.optics };
  }, [slide, disturbed, placing, objective]);

  /** The slide is laid anew: specimens in the middle, the ruling aside and turned. */
  const change = (by: number, toSlide = slideAt): void => {
    const next = (turret + by + FREE_OBJECTIVES.length) % FREE_OBJECTIVES.length;
    const laid = freePlacing(memberAt(FREE_OBJECTIVES, next));
    const inMiddle = memberAt(FREE_SLIDES, toSlide % FREE_SLIDES.length).shows.specimens !== undefined;
    setTurret(next);
    setSlide(toSlide);
    setPlacing(inMiddle ? { ...laid, xUm: 0, yUm: 0, turnedDeg: 0 } : laid);
  };
  const next = nextStep(view, slide.shows.ruling.lines > 0);
  const showMe = (): void => {
    setHints(true);
    if (next) setPlacing(next.done);
  };
  const turnTruth = (): void => setShown((now) => !now);
  const acts: Readonly<Record<string, () => void>> = {
    "+": () => change(1),
    "-": () => change(-1),
    "/": () => change(0, slideAt + 1),
    d: () => setDisturbed((now) => now + 1),
    enter: turnTruth,
    "5": turnTruth,
    h: () => setHints((now) => !now),
    s: showMe,
    "*": showMe,
    p: () => setLarge((now) => !now),
  };
  const answer = (event: KeyboardEvent): boolean => {
    const move = movedByKey(event, objective.objective);
    const act = acts[event.key.toLowerCase()];
    if (move) setPlacing(move);
    else act?.();
    return move !== null || act !== undefined;
  };

  return (
    <Panel
      title={`Free view: ${objective.objective}× / ${objective.na}`}
      lead={`An invented microscope; nothing is recorded. Slide: ${slide.name}.${disturbedAt % DISTURBANCES.length === 0 ? "" : ` Spoilt by ${disturbed.name}.`}`}
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
            label={`View through the eyepiece: ${slide.name}`}
          />
        </SlideStage>
        <div className={styles.answer}>
          {large ? <Button onClick={() => setLarge(false)}>Back from the projector</Button> : null}
          {hints ? <p role="status">{next ? next.words : slide.truth === "" ? READ_NOW : LOOK_NOW}</p> : null}
          {shown ? <Truth view={view} slide={slide} /> : null}
          <KeyList keys={KEYS} />
        </div>
      </div>
    </Panel>
  );
}

function Truth({ view: { optics, placing }, slide: { truth } }: { view: View; slide: FreeSlide }) {
  const { factorUm, span } = freeTruth(optics, placing);
  return (
    <div className={styles.truth} role="status">
      <p>1 div is {factorUm.toFixed(3)}&nbsp;µm in the middle of this field.</p>
      {truth === "" ? null : <p>{truth}</p>}
      {truth !== "" ? null : span ? (
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
