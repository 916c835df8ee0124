import type { PracticeAttempt, PracticeResult } from "#core/contract/records/practice.ts";
import { exerciseOf } from "#core/practice/exercises/all-exercises.ts";
import { DigitPlot } from "./DigitPlot.tsx";
import styles from "./Practice.module.css";

const WIDTH = 420;
const HEIGHT = 170;
const LEFT = 46;
const BOTTOM = 24;

/** Errors in their order, and how often each final digit was read. */
export function AttemptPlots({ attempt, result }: { attempt: PracticeAttempt; result: PracticeResult }) {
  const { errors } = exerciseOf(attempt);
  return (
    <div className={styles.plots}>
      {errors ? (
        <ErrorPlot result={result} guide={errors.guide(attempt.criteria)} words={errors.words} />
      ) : null}
      {result.digits ? <DigitPlot digits={result.digits} /> : null}
    </div>
  );
}

function ErrorPlot({ result, guide, words }: { result: PracticeResult; guide: number; words: string }) {
  const errors = result.readings.map(({ error }) => Number(error));
  const most = Math.max(1.2 * guide, ...errors.map(Math.abs)) * 1.1;
  const y = (error: number): number => ((most - error) / (2 * most)) * (HEIGHT - BOTTOM);
  const x = (index: number): number => LEFT + ((index + 0.5) / errors.length) * (WIDTH - LEFT);
  return (
    <figure className={styles.plot}>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label="Error of each answer in its order">
        <line className={styles.axis} x1={LEFT} x2={WIDTH} y1={y(0)} y2={y(0)} />
        {[1, -1].map((times) => (
          <g key={times}>
            <line className={styles.limit} x1={LEFT} x2={WIDTH} y1={y(times * guide)} y2={y(times * guide)} />
            <text x={LEFT - 6} y={y(times * guide) + 4} textAnchor="end">
              {times < 0 ? "−" : "+"}
              {guide.toFixed(2)}
            </text>
          </g>
        ))}
        <text x={LEFT - 6} y={y(0) + 4} textAnchor="end">
          0
        </text>
        {errors.map((error, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: readings are known by their order
          <circle key={index} className={styles.mark} cx={x(index)} cy={y(error)} r={4} />
        ))}
        <text x={LEFT} y={HEIGHT - 4}>
          first
        </text>
        <text x={WIDTH} y={HEIGHT - 4} textAnchor="end">
          last
        </text>
      </svg>
      <figcaption>{words}</figcaption>
    </figure>
  );
}
