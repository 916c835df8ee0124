import styles from "./drawings.module.css";
import { Scale } from "./Scale.tsx";

/** A grain with its bright halo: the edge lies between the dark rim and the halo, at both ends alike. */
export function Edges() {
  return (
    <svg
      viewBox="0 0 680 220"
      role="img"
      aria-label="An oval grain with a bright halo over a scale; both readings are taken at the outside of the dark rim, not of the halo"
    >
      <ellipse cx={340} cy={100} rx={206} ry={62} className={styles.halo} />
      <ellipse cx={340} cy={100} rx={198} ry={56} className={styles.body} />
      <Scale x={100} y={196} step={6} count={80} way="up" numberEvery={0} />
      <line x1={142} x2={142} y1={50} y2={196} className={styles.mark} />
      <line x1={538} x2={538} y1={50} y2={196} className={styles.mark} />
      <text x={142} y={40} className={styles.words}>
        left edge 7.0
      </text>
      <text x={538} y={40} className={styles.words}>
        right edge 73.0
      </text>
      <text x={340} y={105} className={styles.words}>
        read at the outside of the dark rim, at both ends alike
      </text>
      <text x={340} y={22} className={styles.soft}>
        the bright halo belongs to the optics, not to the grain
      </text>
    </svg>
  );
}
