import { SAMPLE, trendLegend } from "#core/drawing/trend-legend.ts";
import type { TrendModel } from "#core/drawing/trend-model.ts";
import { Marks } from "./Marks.tsx";
import styles from "./trends.module.css";

/** What lines and marks mean. */
export function TrendLegend({ model }: { model: TrendModel }) {
  return (
    <ul className={styles.legend} aria-label="Signs of the chart">
      {trendLegend(model).map(({ sample, words, shape }) => (
        <li key={words}>
          <svg viewBox={`0 0 ${SAMPLE.width} ${SAMPLE.height}`} className={styles.sample} aria-hidden="true">
            <Marks marks={[sample]} />
          </svg>
          <span>
            {words}
            {shape === null ? null : <span className={styles.unseen}> ({shape})</span>}
          </span>
        </li>
      ))}
    </ul>
  );
}
