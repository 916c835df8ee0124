import { scaleLinear } from "d3-scale";
import { useId } from "react";
import type { SeriesTrend } from "#core/contract/records/trend.ts";
import { dateTicks } from "#core/drawing/trend-layout.ts";
import { dayOf } from "#core/drawing/trend-model.ts";
import { shapePath } from "#core/drawing/trend-paths.ts";
import marks from "./marks.module.css";
import styles from "./trends.module.css";

export interface SmallTrendProps {
  readonly series: SeriesTrend;
  /** Shared by all that stand side by side, so that they can be compared by eye. */
  readonly days: readonly [number, number];
  readonly percent: readonly [number, number];
  /** What the line at 0 is. */
  readonly line: string;
}

const WIDTH = 460;
const HEIGHT = 162;
const LEFT = 62;
const RIGHT = 14;
const TOP = 22;
const BOTTOM = 28;
/** More dates would run into each other. */
const MOST_DATES = 4;

/** Days and per cent that hold all series, with a little air. */
export function commonSpans(all: readonly SeriesTrend[]): Omit<SmallTrendProps, "series" | "line"> {
  let [first, last] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let most = 0.05;
  for (const { points } of all) {
    for (const { date, percent, percentUncertainty } of points) {
      first = Math.min(first, dayOf(date));
      last = Math.max(last, dayOf(date));
      most = Math.max(most, Math.abs(Number(percent)) + Number(percentUncertainty));
    }
  }
  if (first > last) return { days: [0, 1], percent: [-1, 1] };
  const air = Math.max(5, (last - first) * 0.04);
  return { days: [first - air, last + air], percent: [-most * 1.08, most * 1.08] };
}

const withSign = (value: number, places: number): string =>
  `${value > 0 ? "+" : value < 0 ? "−" : ""}${Math.abs(value).toFixed(places)} %`;

/** One history among others: change from the line, on axes that all share. */
export function SmallTrend({ series, days, percent, line }: SmallTrendProps) {
  const id = useId();
  const x = scaleLinear(days, [LEFT, WIDTH - RIGHT]);
  const y = scaleLinear(percent, [HEIGHT - BOTTOM, TOP]);
  const ticks = y.ticks(3);
  const places = Math.max(0, Math.ceil(-Math.log10(Math.abs((ticks[1] ?? 1) - (ticks[0] ?? 0))) - 1e-9));
  const place = series.points.map((point) => ({
    px: x(dayOf(point.date)),
    py: y(Number(point.percent)),
    half: Math.abs(y(Number(point.percentUncertainty)) - y(0)),
  }));
  const dates = dateTicks(days[0], days[1], MOST_DATES);
  return (
    <svg
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-labelledby={`${id}-t ${id}-d`}
      className={styles.small}
    >
      <title id={`${id}-t`}>{series.title}</title>
      <desc id={`${id}-d`}>
        {`The line at 0 is ${line}. `}
        {series.points
          .map(({ date, percent: change }) => `${date}: ${withSign(Number(change), 2)}`)
          .join(". ")}
      </desc>
      <path
        className={marks.grid}
        d={ticks.map((tick) => `M${LEFT} ${y(tick).toFixed(1)}H${WIDTH - RIGHT}`).join("")}
      />
      <path className={marks.axis} d={`M${LEFT} ${TOP}V${HEIGHT - BOTTOM}H${WIDTH - RIGHT}`} />
      <path className={marks.centre} d={`M${LEFT} ${y(0)}H${WIDTH - RIGHT}`} />
      <text className={marks.axisText} textAnchor="end" x={WIDTH - RIGHT} y={TOP - 9}>
        0 %: {line}
      </text>
      {ticks.map((tick) => (
        <text key={tick} className={marks.axisText} textAnchor="end" x={LEFT - 6} y={y(tick)} dy="0.34em">
          {withSign(tick, places)}
        </text>
      ))}
      <path
        className={marks.axis}
        d={dates.map(({ day }) => `M${x(day).toFixed(1)} ${HEIGHT - BOTTOM}v5`).join("")}
      />
      {dates.map(({ day, words }) => (
        <text key={day} className={marks.axisText} textAnchor="middle" x={x(day)} y={HEIGHT - 6}>
          {words}
        </text>
      ))}
      <path
        className={marks.bars}
        d={place
          .map(({ px, py, half }) => `M${px.toFixed(1)} ${(py - half).toFixed(1)}v${(2 * half).toFixed(1)}`)
          .join("")}
      />
      <path className={marks.filled} d={place.map(({ px, py }) => shapePath(0, px, py, 4)).join("")} />
    </svg>
  );
}
