import { scaleLinear } from "d3-scale";
import { useId } from "react";
import type { ReportTable } from "#core/contract/records/exchange.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import styles from "./histogram.module.css";

const WIDTH = 640;
const HEIGHT = 190;
const LEFT = 40;
const RIGHT = 12;
const TOP = 10;
const BOTTOM = 36;

/** How many sizes fell into each class, with the limits of the classes on the axis. */
export function HistogramPlot({ name, unit, histogram }: Pick<ReportTable, "name" | "unit" | "histogram">) {
  const id = useId();
  const first = Number(histogram[0]?.from ?? 0);
  const last = Number(histogram.at(-1)?.to ?? 1);
  const most = histogram.reduce((greatest, bar) => Math.max(greatest, bar.count), 1);
  const x = scaleLinear([first, last], [LEFT, WIDTH - RIGHT]);
  const y = scaleLinear([0, most], [HEIGHT - BOTTOM, TOP]);
  const total = histogram.reduce((sum, bar) => sum + bar.count, 0);
  const limits = [...histogram.map((bar) => bar.from), ...histogram.slice(-1).map((bar) => bar.to)];
  const every = Math.ceil(limits.length / 12);
  return (
    <svg
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-labelledby={`${id}-t ${id}-d`}
      className={styles.plot}
    >
      <title id={`${id}-t`}>{`${name}: how often each size was found`}</title>
      <desc id={`${id}-d`}>
        {`${countedNoun(total, "size")} between ${first} and ${last} ${unit}; at most ${most} in one class.`}
      </desc>
      {y
        .ticks(4)
        .filter(Number.isInteger)
        .map((tick) => (
          <g key={tick}>
            <line x1={LEFT} x2={WIDTH - RIGHT} y1={y(tick)} y2={y(tick)} className={styles.grid} />
            <text x={LEFT - 6} y={y(tick)} className={styles.count}>
              {tick}
            </text>
          </g>
        ))}
      {histogram.map((bar) => (
        <rect
          key={bar.from}
          x={x(Number(bar.from)) + 0.5}
          width={Math.max(0.5, x(Number(bar.to)) - x(Number(bar.from)) - 1)}
          y={y(bar.count)}
          height={y(0) - y(bar.count)}
          className={styles.bar}
        />
      ))}
      <line x1={LEFT} x2={WIDTH - RIGHT} y1={y(0)} y2={y(0)} className={styles.axis} />
      {limits.map((limit, at) =>
        at % every === 0 ? (
          <text key={limit} x={x(Number(limit))} y={HEIGHT - BOTTOM + 15} className={styles.limit}>
            {limit}
          </text>
        ) : null,
      )}
      <text x={(LEFT + WIDTH - RIGHT) / 2} y={HEIGHT - 4} className={styles.limit}>
        {`${name}, ${unit}`}
      </text>
    </svg>
  );
}
