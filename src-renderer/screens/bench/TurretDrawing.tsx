import type { TrainStatus } from "#core/contract/records/bench.ts";
import type { Objective } from "#core/contract/records/microscope.ts";
import { objectiveWords } from "#core/optics/train-name.ts";
import { RingDrawing } from "../../parts/bench-words/ObjectiveRing.tsx";
import styles from "./TurretDrawing.module.css";

export interface TurretDrawingProps {
  readonly places: readonly (Objective | null)[];
  readonly trains: readonly TrainStatus[];
}

/** Width of one place of the turret, in units of the drawing. */
const PLACE = 150;
const HEIGHT = 102;
/** How much lower the middle of the arc lies than its ends. */
const SAG = 30;
const TICKS_PER_PLACE = 10;

/** The turret from the front: an engraved arc with the objective rings at their places. */
export function TurretDrawing({ places, trains }: TurretDrawingProps) {
  const width = places.length * PLACE;
  const at = (x: number): number => 2 + SAG * (1 - ((2 * x) / width - 1) ** 2);
  const steps = places.length * TICKS_PER_PLACE;
  const arc = Array.from({ length: steps + 1 }, (_, step) => (step * width) / steps);
  const line = (shift: number): string =>
    arc.map((x, index) => `${index === 0 ? "M" : "L"}${x} ${at(x) + shift}`).join(" ");
  return (
    <svg
      className={styles.drawing}
      viewBox={`0 0 ${width} ${HEIGHT}`}
      role="img"
      aria-label={words(places, trains)}
    >
      <path className={styles.edge} d={line(0)} />
      <path className={styles.edge} d={line(22)} />
      {arc.map((x, step) => (
        <line
          key={x}
          className={styles.tick}
          x1={x}
          x2={x}
          y1={at(x) + 22}
          y2={at(x) + 22 - tickLength(step)}
        />
      ))}
      {places.map((objective, index) => {
        const x = (index + 0.5) * PLACE;
        const y = at(x) + 40;
        return (
          <g key={objective?.id ?? `empty ${index + 1}`}>
            {objective ? (
              <RingDrawing x={x} y={y} magnification={objective.magnification} />
            ) : (
              <circle className={styles.hole} cx={x} cy={y} r="24" />
            )}
            <text className={styles.position} x={x - 44} y={y + 22}>
              {index + 1}
            </text>
          </g>
        );
      })}
    </svg>
  );
}

function tickLength(step: number): number {
  if (step % TICKS_PER_PLACE === 0) return 16;
  return step % 5 === 0 ? 11 : 6;
}

function words(places: TurretDrawingProps["places"], trains: TurretDrawingProps["trains"]): string {
  const list = places.map((objective, index) => {
    if (!objective) return `${index + 1} empty`;
    const states = trains
      .filter((status) => status.train.objectiveId === objective.id)
      .map((status) => status.state);
    return `${index + 1} ${objectiveWords(objective)} ${[...new Set(states)].join(", ")}`;
  });
  return `Turret: ${list.join("; ")}`;
}
