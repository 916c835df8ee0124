import { scaleLinear } from "d3-scale";
import { useId } from "react";
import styles from "./charts.module.css";
import { coincidences, type Line, linesInSight, reticleLines, type ScalesMatch } from "./scales-geometry.ts";

/** One end of the setting under way: a reading beside a line. */
export interface ScalesMark {
  readonly division: number;
  readonly line: number;
}

export interface ScalesDrawingProps {
  readonly reticleDivisions: number;
  readonly micrometerDivisions: number;
  readonly match: ScalesMatch;
  /** False while the drawing shows what the engravings lead one to expect. */
  readonly isRead: boolean;
  readonly marks: readonly ScalesMark[];
  /** Lines this close to a division are marked as coinciding, div. */
  readonly tolerance: number;
  readonly words: string;
}

const WIDTH = 1200;
const SIDE = 36;
const MARGIN_DIVISIONS = 4;
const RETICLE_BASE = 96;
const LINES_TOP = 104;
const TALL: Readonly<Record<Line["length"], number>> = { long: 46, middle: 32, short: 22 };

/** The two scales one over the other as seen in the eyepiece, to scale: the reticle above, the micrometer below. */
export function ScalesDrawing(props: ScalesDrawingProps) {
  const { reticleDivisions, micrometerDivisions, match, isRead, marks, tolerance, words } = props;
  const id = useId();
  const x = scaleLinear([-MARGIN_DIVISIONS, reticleDivisions + MARGIN_DIVISIONS], [SIDE, WIDTH - SIDE]);
  const own = reticleLines(reticleDivisions);
  const lines = linesInSight(match, micrometerDivisions, reticleDivisions, MARGIN_DIVISIONS);
  const on = coincidences(lines, reticleDivisions, tolerance);
  return (
    <figure className={styles.figure}>
      <svg
        viewBox={`0 0 ${WIDTH} 200`}
        role="img"
        aria-labelledby={`${id}-t ${id}-d`}
        className={styles.scales}
      >
        <title id={`${id}-t`}>Reticle above, stage micrometer below</title>
        <desc id={`${id}-d`}>{words}</desc>
        <rect className={styles.field} x="1" y="1" width={WIDTH - 2} height="198" rx="98" />
        <path className={styles.reticle} d={ticks(own, x, RETICLE_BASE, -1)} />
        <path className={styles.reticle} d={`M${x(0)} ${RETICLE_BASE}H${x(reticleDivisions)}`} />
        <path className={isRead ? styles.micrometer : styles.expected} d={ticks(lines, x, LINES_TOP, 1)} />
        <path
          className={styles.coincident}
          d={on.map(({ division }) => `M${x(division)} ${RETICLE_BASE - 4}v16`).join("")}
        />
        {own
          .filter((line) => line.number % 10 === 0)
          .map((line) => (
            <text key={line.number} className={styles.scaleText} x={x(line.at)} y={RETICLE_BASE - 54}>
              {line.number}
            </text>
          ))}
        {namedLines(lines).map((line) => (
          <text key={line.number} className={styles.scaleText} x={x(line.at)} y={LINES_TOP + 66}>
            {line.number}
          </text>
        ))}
        {marks.map((mark, at) => (
          <g key={`${mark.division}-${mark.line}`} transform={`translate(${x(mark.division)} 0)`}>
            <path className={styles.mark} d="M0 30V172" />
            <text
              className={styles.markText}
              data-end={at === 0 ? "left" : "right"}
              x={at === 0 ? -6 : 6}
              y="22"
            >
              {mark.division} div
            </text>
            <text
              className={styles.markText}
              data-end={at === 0 ? "left" : "right"}
              x={at === 0 ? -6 : 6}
              y="190"
            >
              line {mark.line}
            </text>
          </g>
        ))}
      </svg>
      <figcaption className={styles.caption}>{words}</figcaption>
    </figure>
  );
}

/** All ticks of a scale as one path: cheap, however many there are. */
function ticks(
  lines: readonly Line[],
  x: (value: number) => number,
  base: number,
  direction: 1 | -1,
): string {
  return lines.map((line) => `M${x(line.at).toFixed(2)} ${base}v${direction * TALL[line.length]}`).join("");
}

/** Lines that get their number: every tenth, or fewer where they would run together. */
function namedLines(lines: readonly Line[]): readonly Line[] {
  const tens = lines.filter((line) => line.number % 10 === 0);
  const step = Math.ceil(tens.length / 22);
  return tens.filter((line) => line.number % (10 * step) === 0);
}
