import type { ExerciseOfClass } from "#core/practice/class-report.ts";
import styles from "./Practice.module.css";

const WIDTH = 640;
const ROW = 26;
const LEFT = 170;
const BOTTOM = 22;

/** Everyone's mean error as a dot with s to both sides, one line for each person. */
export function ClassPlot({ of, nameOf }: { of: ExerciseOfClass; nameOf: (personId: string) => string }) {
  const lines = of.members.flatMap(({ personId, errors }) =>
    errors ? [{ personId, mean: errors.mean.toNumber(), s: errors.deviation?.toNumber() ?? 0 }] : [],
  );
  if (lines.length === 0) return null;
  const most = Math.max(...lines.map(({ mean, s }) => Math.abs(mean) + s)) * 1.15 || 1;
  const height = lines.length * ROW + BOTTOM;
  const x = (value: number): number => LEFT + ((value + most) / (2 * most)) * (WIDTH - LEFT);
  // What rounds to zero has no sign.
  const label = (value: number): string =>
    Number(value.toFixed(2)) === 0 ? "0.00" : value.toFixed(2).replace("-", "−");
  return (
    <figure className={styles.plot}>
      <svg
        viewBox={`0 0 ${WIDTH} ${height}`}
        role="img"
        aria-label={`Mean error of everybody with s to both sides: ${lines.map(({ personId, mean, s }) => `${nameOf(personId)} ${label(mean)} ± ${label(s)}`).join(", ")}`}
      >
        <line className={styles.axis} x1={x(0)} x2={x(0)} y1={0} y2={height - BOTTOM} />
        {lines.map(({ personId, mean, s }, at) => {
          const y = (at + 0.5) * ROW;
          return (
            <g key={personId}>
              <text x={LEFT - 10} y={y + 4} textAnchor="end">
                {nameOf(personId).slice(0, 24)}
              </text>
              <line className={styles.spread} x1={x(mean - s)} x2={x(mean + s)} y1={y} y2={y} />
              <circle className={styles.mark} cx={x(mean)} cy={y} r={5} />
            </g>
          );
        })}
        {[-most / 1.15, 0, most / 1.15].map((value) => (
          <text key={value} x={x(value)} y={height - 5} textAnchor="middle">
            {label(value)}
          </text>
        ))}
      </svg>
      <figcaption>
        Mean error in {of.exercise.errors?.unit}, with s to both sides. The line is the truth.
      </figcaption>
    </figure>
  );
}
