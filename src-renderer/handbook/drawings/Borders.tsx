import styles from "./drawings.module.css";

const OBJECTS = [
  { x: 330, y: 110, counts: true },
  { x: 420, y: 170, counts: true },
  { x: 260, y: 150, counts: false },
  { x: 360, y: 40, counts: false },
  { x: 500, y: 120, counts: true },
  { x: 300, y: 210, counts: true },
];

/** A square field: what crosses two named edges counts, what crosses the other two does not. */
export function Borders() {
  return (
    <svg
      viewBox="0 0 680 250"
      role="img"
      aria-label="A square field; objects on the right and lower edge are counted, objects on the left and upper edge are not"
    >
      <rect x={260} y={40} width={240} height={170} className={styles.line} />
      <path d="M 500 40 L 500 210 L 260 210" className={styles.mark} />
      {OBJECTS.map(({ x, y, counts }) => (
        <g key={`${x} ${y}`}>
          <circle cx={x} cy={y} r={14} className={styles.body} />
          {counts ? <circle cx={x} cy={y} r={6} className={styles.marked} /> : null}
        </g>
      ))}
      <text x={130} y={125} className={styles.words}>
        not counted: left, upper
      </text>
      <text x={590} y={150} className={styles.words}>
        counted (dot): right, lower
      </text>
    </svg>
  );
}
