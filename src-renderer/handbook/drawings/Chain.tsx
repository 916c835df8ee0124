import styles from "./drawings.module.css";

const LINKS = [
  "the metre (SI)",
  "laboratory",
  "certificate",
  "stage micrometer",
  "calibration",
  "factor",
  "size",
];

/** What a size rests on, link by link. */
export function Chain() {
  return (
    <svg viewBox="0 0 680 110" role="img" aria-label={`A chain: ${LINKS.join(", ")}`}>
      {LINKS.map((words, at) => {
        const x = 8 + at * 96;
        return (
          <g key={words}>
            <rect x={x} y={34} width={84} height={40} rx={3} className={styles.body} />
            <text x={x + 42} y={58} className={styles.soft}>
              {words}
            </text>
            {at > 0 ? (
              <path d={`M ${x - 12} 54 l 10 0 m -5 -4 l 5 4 l -5 4`} className={styles.mark} />
            ) : null}
          </g>
        );
      })}
    </svg>
  );
}
