import type { TrendModel } from "./trend-model.ts";
import { SHAPE_WORDS, shapePath } from "./trend-paths.ts";
import styles from "./trends.module.css";

const LINES = [
  { className: styles.centre, words: "mean or drift line" },
  { className: styles.warning, words: "warning limits" },
  { className: styles.action, words: "action limits" },
  { className: styles.toleranceEdge, words: "tolerance" },
  { className: styles.nominal, words: "nominal" },
  { className: styles.break, words: "event, by its letter" },
] as const;

/** What lines and marks mean: shapes are people, fillings are micrometers. */
export function TrendLegend({ model }: { model: TrendModel }) {
  const left = model.counts.some((counts) => !counts);
  return (
    <ul className={styles.legend} aria-label="Signs of the chart">
      {model.kinds.map(({ person, micrometer, shape, fill }) => (
        <li key={`${person} ${micrometer}`}>
          <Sample>
            <path className={styles.mark} data-fill={fill % 3} d={shapePath(shape, 14, 9, 5)} />
          </Sample>
          <span>
            {person} with {micrometer}
            <span className={styles.unseen}> ({SHAPE_WORDS[shape % SHAPE_WORDS.length]})</span>
          </span>
        </li>
      ))}
      {LINES.map(({ className, words }) => (
        <li key={words}>
          <Sample>
            <path className={className} d="M1 9H27" />
          </Sample>
          {words}
        </li>
      ))}
      {model.rules.some((rule) => rule !== "") ? (
        <li>
          <Sample>
            <circle className={styles.ring} cx="14" cy="9" r="7" />
          </Sample>
          a rule fires, named above
        </li>
      ) : null}
      {left ? (
        <li>
          <Sample>
            <path className={styles.leftOut} d="M9 4l10 10m-10 0l10 -10" />
          </Sample>
          withdrawn or apart, left out
        </li>
      ) : null}
      {model.checks.length > 0 ? (
        <li>
          <Sample>
            <path className={styles.check} d="M11 9h6m-3 -3v6" />
          </Sample>
          quick check
        </li>
      ) : null}
    </ul>
  );
}

function Sample({ children }: { children: React.ReactNode }) {
  return (
    <svg viewBox="0 0 28 18" className={styles.sample} aria-hidden="true">
      {children}
    </svg>
  );
}
