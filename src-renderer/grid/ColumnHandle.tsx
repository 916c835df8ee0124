import { type KeyboardEvent, type PointerEvent, type SyntheticEvent, useRef } from "react";
import { LEAST_WIDTH, MOST_WIDTH, possibleWidth, WIDTH_STEP } from "./column-widths.ts";
import styles from "./EntryGrid.module.css";

export interface ColumnHandleProps {
  /** Spoken name of the column. */
  readonly name: string;
  /** rem */
  readonly width: number;
  /** null: the usual width again. */
  readonly onWidth: (width: number | null) => void;
}

const STEPS: Readonly<Record<string, number>> = { ArrowLeft: -WIDTH_STEP, ArrowRight: WIDTH_STEP };

function pixelsOfRem(): number {
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
}

/** The line right of a heading: dragged, or moved with the arrows once it has been pressed. */
export function ColumnHandle({ name, width, onWidth }: ColumnHandleProps) {
  const start = useRef({ x: 0, width });
  const press = (event: PointerEvent<HTMLElement>): void => {
    event.currentTarget.setPointerCapture(event.pointerId);
    start.current = { x: event.clientX, width };
  };
  const drag = (event: PointerEvent<HTMLElement>): void => {
    if (!event.currentTarget.hasPointerCapture(event.pointerId)) return;
    const moved = (event.clientX - start.current.x) / pixelsOfRem();
    onWidth(possibleWidth(start.current.width + moved));
  };
  const step = (event: KeyboardEvent): void => {
    const by = STEPS[event.key];
    if (by === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    onWidth(possibleWidth(width + by));
  };
  // Pressing the line selects no column and opens no cell.
  const keep = (event: SyntheticEvent): void => event.stopPropagation();
  return (
    <hr
      aria-orientation="vertical"
      aria-label={`Width of ${name}`}
      aria-valuenow={width}
      aria-valuemin={LEAST_WIDTH}
      aria-valuemax={MOST_WIDTH}
      tabIndex={-1}
      className={styles.handle}
      onPointerDown={press}
      onPointerMove={drag}
      onMouseDown={keep}
      onKeyDown={step}
      onDoubleClick={(event) => {
        keep(event);
        onWidth(null);
      }}
    />
  );
}
