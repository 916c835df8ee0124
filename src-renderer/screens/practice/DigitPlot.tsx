import styles from "./Practice.module.css";

const WIDTH = 420;
const HEIGHT = 170;
const LEFT = 46;
const BOTTOM = 24;

/** How often each final digit was read, with a line at as many of each. */
export function DigitPlot({ digits }: { digits: readonly number[] }) {
  const most = Math.max(1, ...digits);
  const wide = (WIDTH - LEFT) / digits.length;
  const fair = digits.reduce((sum, count) => sum + count, 0) / digits.length;
  const y = (count: number): number => (1 - count / most) * (HEIGHT - BOTTOM - 14) + 14;
  return (
    <figure className={styles.plot}>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={`How often each final digit was read: ${digits.map((count, digit) => `${digit}: ${count}`).join(", ")}`}
      >
        {digits.map((count, digit) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a digit is its place
          <g key={digit}>
            <rect
              className={styles.mark}
              x={LEFT + digit * wide + 3}
              width={wide - 6}
              y={y(count)}
              height={y(0) - y(count)}
            />
            <text x={LEFT + (digit + 0.5) * wide} y={y(count) - 3} textAnchor="middle">
              {count}
            </text>
            <text x={LEFT + (digit + 0.5) * wide} y={HEIGHT - 6} textAnchor="middle">
              .{digit}
            </text>
          </g>
        ))}
        <line className={styles.limit} x1={LEFT} x2={WIDTH} y1={y(fair)} y2={y(fair)} />
      </svg>
      <figcaption>Final digits read. Broken line: as many of each.</figcaption>
    </figure>
  );
}
