import { scaleLinear } from "d3-scale";
import { useId } from "react";
import styles from "./SeriesPlot.module.css";

const WIDTH = 480;
const HEIGHT = 170;
const LEFT = 44;
const RIGHT = 12;
const TOP = 10;
const BOTTOM = 26;

interface Ends {
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface PlottedCount {
  readonly name: string;
  readonly value: number;
  /** Its own limits; null: none yet. */
  readonly limits: Ends | null;
  readonly isOutside: boolean;
}

interface SeriesPlotProps {
  readonly title: string;
  readonly description: string;
  readonly points: readonly PlottedCount[];
  /** Drawn right across: the mean, and limits that are stated. */
  readonly centre?: number;
  readonly stated?: Ends | null;
}

const given = ({ lower, upper }: Ends): number[] => [lower, upper].filter((end) => end !== null);

/** Values in their order, each with its own limits. */
export function SeriesPlot({ title, description, points, centre, stated = null }: SeriesPlotProps) {
  const id = useId();
  const shown = [
    ...points.flatMap(({ value, limits }) => [value, ...(limits ? given(limits) : [])]),
    ...(stated ? given(stated) : []),
  ];
  const most = Math.max(0, ...shown);
  const least = Math.min(0, ...shown);
  const x = scaleLinear([-0.5, points.length - 0.5], [LEFT, WIDTH - RIGHT]);
  const y = scaleLinear([least * 1.08, most === 0 ? 1 : most * 1.08], [HEIGHT - BOTTOM, TOP]);
  const every = Math.ceil(points.length / 8);
  const across = (at: number, className: string | undefined) => (
    <line
      key={`${className} ${at}`}
      x1={LEFT}
      x2={WIDTH - RIGHT}
      y1={y(at)}
      y2={y(at)}
      className={className}
    />
  );
  return (
    <svg
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-labelledby={`${id}-t ${id}-d`}
      className={styles.plot}
    >
      <title id={`${id}-t`}>{title}</title>
      <desc id={`${id}-d`}>{description}</desc>
      {y.ticks(4).map((tick) => (
        <g key={tick}>
          {across(tick, styles.grid)}
          <text x={LEFT - 6} y={y(tick)} className={styles.tick}>
            {tick}
          </text>
        </g>
      ))}
      {centre === undefined ? null : across(centre, styles.centre)}
      {stated ? given(stated).map((end) => across(end, styles.stated)) : null}
      {points.map(({ name, value, limits, isOutside }, i) => (
        <g key={name}>
          {(limits ? given(limits) : []).map((limit) => (
            <line
              key={limit}
              x1={x(i - 0.4)}
              x2={x(i + 0.4)}
              y1={y(limit)}
              y2={y(limit)}
              className={styles.limit}
            />
          ))}
          {isOutside ? <circle cx={x(i)} cy={y(value)} r={8} className={styles.ring} /> : null}
          <circle cx={x(i)} cy={y(value)} r={4} className={styles.dot} />
          {i % every === 0 ? (
            <text x={x(i)} y={HEIGHT - 8} className={styles.name}>
              {name}
            </text>
          ) : null}
        </g>
      ))}
    </svg>
  );
}
