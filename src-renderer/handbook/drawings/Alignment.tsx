import styles from "./drawings.module.css";
import { Scale } from "./Scale.tsx";

const X = 40;
const STEP = 6;
/** Divisions of the reticle over one millimetre of the slide: an invented train. */
const COINCIDES = 96.4;

/** The reticle's scale above, the slide's lines below; what is read where they meet. */
export function Alignment() {
  const end = X + COINCIDES * STEP;
  return (
    <svg
      viewBox="0 0 680 210"
      role="img"
      aria-label="Reticle scale and stage micrometer set edge to edge; zero on zero, and the last line of the slide at 96.4 divisions"
    >
      <text x={X} y={24} className={styles.wordsStart}>
        reticle in the eyepiece, divisions
      </text>
      <Scale x={X} y={92} step={STEP} count={100} way="up" />
      <Scale x={X} y={100} step={end / 100 - X / 100} count={100} way="down" each={0.01} />
      <line x1={X} x2={X} y1={62} y2={128} className={styles.mark} />
      <line x1={end} x2={end} y1={62} y2={128} className={styles.mark} />
      <text x={X} y={176} className={styles.wordsStart}>
        stage micrometer, mm
      </text>
      <text x={end} y={176} className={styles.words}>
        1 mm at 96.4 div
      </text>
      <text x={340} y={200} className={styles.words}>
        1000 µm ÷ 96.4 div = 10.37 µm/div
      </text>
    </svg>
  );
}
