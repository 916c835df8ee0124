import { scaleLinear } from "d3-scale";
import { useId } from "react";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { Decimal } from "#core/quantity/decimal.ts";
import type { ChartedCount } from "#core/trends/count-chart.ts";
import styles from "./SeriesPlot.module.css";

const WIDTH = 480;
const HEIGHT = 170;
const LEFT = 44;
const RIGHT = 12;
const TOP = 10;
const BOTTOM = 26;

interface SeriesPlotProps {
  readonly points: readonly (ChartedCount & { readonly name: string })[];
  readonly centre: Decimal;
}

/** Objects per field of each count in its order, the mean and each count's own limits. */
export function SeriesPlot({ points, centre }: SeriesPlotProps) {
  const id = useId();
  const most = points.reduce(
    (greatest, { rate, limits }) => Math.max(greatest, rate.toNumber(), limits.upper.toNumber()),
    0,
  );
  const x = scaleLinear([-0.5, points.length - 0.5], [LEFT, WIDTH - RIGHT]);
  const y = scaleLinear([0, most === 0 ? 1 : most * 1.08], [HEIGHT - BOTTOM, TOP]);
  const middle = y(centre.toNumber());
  const every = Math.ceil(points.length / 8);
  const beyond = points.filter(({ isOutside }) => isOutside).length;
  return (
    <svg
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-labelledby={`${id}-t ${id}-d`}
      className={styles.plot}
    >
      <title id={`${id}-t`}>Objects per field, count by count</title>
      <desc id={`${id}-d`}>
        {`${countedNoun(points.length, "count")}, ${centre.toSignificantDigits(3).toFixed()} objects per field in the mean; ${beyond} beyond the limits.`}
      </desc>
      {y.ticks(4).map((tick) => (
        <g key={tick}>
          <line x1={LEFT} x2={WIDTH - RIGHT} y1={y(tick)} y2={y(tick)} className={styles.grid} />
          <text x={LEFT - 6} y={y(tick)} className={styles.tick}>
            {tick}
          </text>
        </g>
      ))}
      <line x1={LEFT} x2={WIDTH - RIGHT} y1={middle} y2={middle} className={styles.centre} />
      {points.map(({ name, rate, limits, isOutside }, i) => (
        <g key={name}>
          {[limits.lower, limits.upper].map((limit, side) => (
            <line
              // biome-ignore lint/suspicious/noArrayIndexKey: the lower and the upper one
              key={side}
              x1={x(i - 0.4)}
              x2={x(i + 0.4)}
              y1={y(limit.toNumber())}
              y2={y(limit.toNumber())}
              className={styles.limit}
            />
          ))}
          {isOutside ? <circle cx={x(i)} cy={y(rate.toNumber())} r={8} className={styles.ring} /> : null}
          <circle cx={x(i)} cy={y(rate.toNumber())} r={4} className={styles.dot} />
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
