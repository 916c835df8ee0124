import { type KeyboardEvent, useEffect, useId, useMemo, useReducer } from "react";
import { PLOT, PLOT_BOTTOM, trendLayout } from "#core/drawing/trend-layout.ts";
import type { TrendModel } from "#core/drawing/trend-model.ts";
import { TrendBase } from "./TrendBase.tsx";
import { actOfKey, type TrendView, type ViewAct, viewAfter, wholeView } from "./trend-view.ts";
import styles from "./trends.module.css";
import { useWidth } from "./use-width.ts";

export interface TrendChartProps {
  readonly model: TrendModel;
  readonly title: string;
  /** What the chart shows, for those who do not see it. */
  readonly summary: string;
  readonly withTolerance: boolean;
  /** A point in words, with its value. */
  readonly pointWords: (place: number) => string;
  readonly onOpen: (place: number) => void;
  /** Told which days are in view, counted from 1970-01-01, first and whenever that changes. */
  readonly onSeen: (from: number, to: number) => void;
}

const FIRST_WIDTH = 960;

/**
 * A history drawn to scale, read by keyboard: the arrows step from point to point and the point's words are spoken and
 * shown below; plus and minus zoom, Shift with the arrows pans, 0 shows the whole, Enter opens the calibration.
 */
export function TrendChart(props: TrendChartProps) {
  const { model, title, summary, withTolerance, pointWords, onOpen, onSeen } = props;
  const id = useId();
  const [box, width] = useWidth<HTMLDivElement>(FIRST_WIDTH);
  const [view, press] = useReducer(
    (before: TrendView, key: ViewAct): TrendView => viewAfter(model, before, key),
    model,
    wholeView,
  );
  const { from, to } = view;
  const layout = useMemo(
    () => trendLayout(model, { from, to }, width, withTolerance),
    [model, from, to, width, withTolerance],
  );
  useEffect(() => onSeen(from, to), [onSeen, from, to]);
  const place = Math.min(view.current, model.days.length - 1);

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === "Enter" && place >= 0) {
      event.preventDefault();
      onOpen(place);
      return;
    }
    const act = actOfKey(event.key, event.shiftKey);
    if (!act) return;
    event.preventDefault();
    press(act);
  };

  return (
    <div className={styles.figure}>
      <div
        ref={box}
        className={styles.chart}
        role="application"
        aria-label={title}
        aria-describedby={`${id}-summary`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the chart is read point by point with the arrow keys
        tabIndex={0}
        onKeyDown={onKeyDown}
        data-testid="trend-chart"
      >
        <svg
          viewBox={`0 0 ${width} ${PLOT.height}`}
          width={width}
          height={PLOT.height}
          className={styles.plot}
          aria-hidden="true"
        >
          <TrendBase model={model} layout={layout} />
          {place >= 0 ? (
            <Cursor
              x={layout.x(model.days[place] ?? 0)}
              y={layout.y(model.values[place] ?? 0)}
              right={width - PLOT.right}
            />
          ) : null}
        </svg>
      </div>
      <p id={`${id}-summary`} className={styles.unseen}>
        {summary} Arrow keys step from calibration to calibration, plus and minus zoom, Shift with the arrows
        moves along, 0 shows the whole history, Enter opens the calibration.
      </p>
      <p className={styles.reader} role="status" data-testid="trend-reader">
        {place >= 0 ? pointWords(place) : "No calibration yet."}
      </p>
    </div>
  );
}

function Cursor({ x, y, right }: { x: number; y: number; right: number }) {
  if (x < PLOT.left || x > right) return null;
  return (
    <>
      <path
        className={styles.cursorLine}
        d={`M${x} ${y + 9}V${PLOT_BOTTOM - 20}M${x} ${PLOT_BOTTOM - 3}v9`}
      />
      <circle className={styles.cursor} cx={x} cy={y} r="8" />
    </>
  );
}
