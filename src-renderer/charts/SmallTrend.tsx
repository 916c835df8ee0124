import { useId } from "react";
import type { SeriesTrend } from "#core/contract/records/trend.ts";
import {
  type CommonSpans,
  SMALL_TREND,
  smallTrendMarks,
  smallTrendWords,
} from "#core/drawing/small-trend.ts";
import { Marks } from "./Marks.tsx";
import styles from "./trends.module.css";

export interface SmallTrendProps {
  readonly series: SeriesTrend;
  readonly spans: CommonSpans;
  /** What the line at 0 is. */
  readonly line: string;
}

/** One history among others: change from the line, on axes that all share. */
export function SmallTrend({ series, spans, line }: SmallTrendProps) {
  const id = useId();
  return (
    <svg
      viewBox={`0 0 ${SMALL_TREND.width} ${SMALL_TREND.height}`}
      role="img"
      aria-labelledby={`${id}-t ${id}-d`}
      className={styles.small}
    >
      <title id={`${id}-t`}>{series.title}</title>
      <desc id={`${id}-d`}>{smallTrendWords(series, line)}</desc>
      <Marks marks={smallTrendMarks(series, spans, line)} />
    </svg>
  );
}
