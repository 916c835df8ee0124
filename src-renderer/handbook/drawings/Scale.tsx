import styles from "./drawings.module.css";

export interface ScaleProps {
  /** Where the first line stands, px. */
  readonly x: number;
  /** The edge from which the lines rise, px. */
  readonly y: number;
  /** From line to line, px. */
  readonly step: number;
  /** How many intervals. */
  readonly count: number;
  /** Up from the edge, or down. */
  readonly way: "up" | "down";
  /** Every how many lines a number stands; 0: none. */
  readonly numberEvery?: number;
  /** What each interval counts, for the numbers. */
  readonly each?: number;
}

/** A line scale: long lines at every tenth, middle ones at every fifth. */
export function Scale({ x, y, step, count, way, numberEvery = 10, each = 1 }: ScaleProps) {
  const sign = way === "up" ? -1 : 1;
  const lines = Array.from({ length: count + 1 }, (_, at) => ({
    at,
    px: x + at * step,
    long: at % 10 === 0 ? 26 : at % 5 === 0 ? 20 : 14,
  }));
  return (
    <g>
      <line x1={x} x2={x + count * step} y1={y} y2={y} className={styles.line} />
      {lines.map(({ at, px, long }) => (
        <line key={at} x1={px} x2={px} y1={y} y2={y + sign * long} className={styles.line} />
      ))}
      {numberEvery === 0
        ? null
        : lines
            .filter(({ at }) => at % numberEvery === 0)
            .map(({ at, px }) => (
              <text key={at} x={px} y={y + sign * 34 + (way === "up" ? 0 : 8)} className={styles.number}>
                {Number((at * each).toFixed(3))}
              </text>
            ))}
    </g>
  );
}
