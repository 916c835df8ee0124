import styles from "./drawings.module.css";
import { Scale } from "./Scale.tsx";

const VIEWS = [
  { cx: 180, words: "10×: 8 divisions of 10.4 µm", half: 24 },
  { cx: 500, words: "40×: 32 divisions of 2.6 µm", half: 96 },
];

/** The same grain under two objectives: the scale in the eyepiece stays, the picture of the grain grows. */
export function TwoObjectives() {
  return (
    <svg
      viewBox="0 0 680 290"
      role="img"
      aria-label="Two round fields with the same scale; the grain covers 8 divisions under the 10× and 32 under the 40×"
    >
      {VIEWS.map(({ cx, words, half }) => (
        <g key={cx}>
          <circle cx={cx} cy={135} r={125} className={styles.line} />
          <ellipse cx={cx} cy={92} rx={half} ry={half * 0.3} className={styles.body} />
          <Scale x={cx - 102} y={180} step={6} count={34} way="up" />
          {[-half, half].map((at) => (
            <line key={at} x1={cx + at} x2={cx + at} y1={70} y2={180} className={styles.mark} />
          ))}
          <text x={cx} y={280} className={styles.words}>
            {words}
          </text>
        </g>
      ))}
    </svg>
  );
}
