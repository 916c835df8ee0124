import styles from "./drawings.module.css";

const EXAMPLES = [
  { at: 0, words: "40.0: on the line" },
  { at: 0.2, words: "40.2: just past it" },
  { at: 0.5, words: "40.5: halves are alike" },
  { at: 0.8, words: "40.8: just before the next" },
];
const WIDE = 110;

/** One division, much enlarged, with an edge at four places. */
export function Tenths() {
  return (
    <svg
      viewBox="0 0 680 150"
      role="img"
      aria-label="One division enlarged four times: an edge on the line, two tenths past it, in the middle, eight tenths past it"
    >
      {EXAMPLES.map(({ at, words }, index) => {
        const x = 40 + index * 165;
        return (
          <g key={words}>
            <rect
              x={x + at * WIDE}
              y={52}
              width={WIDE - at * WIDE + 12}
              height={38}
              className={styles.wash}
            />
            <line x1={x} x2={x} y1={30} y2={100} className={styles.line} />
            <line x1={x + WIDE} x2={x + WIDE} y1={30} y2={100} className={styles.line} />
            {[0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9].map((tenth) => (
              <line
                key={tenth}
                x1={x + tenth * WIDE}
                x2={x + tenth * WIDE}
                y1={92}
                y2={tenth === 0.5 ? 102 : 98}
                className={styles.fine}
              />
            ))}
            <line x1={x + at * WIDE} x2={x + at * WIDE} y1={44} y2={96} className={styles.mark} />
            <text x={x} y={24} className={styles.number}>
              40
            </text>
            <text x={x + WIDE} y={24} className={styles.number}>
              41
            </text>
            <text x={x + WIDE / 2} y={130} className={styles.words}>
              {words}
            </text>
          </g>
        );
      })}
    </svg>
  );
}
