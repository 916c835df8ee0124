import styles from "./ErrorPlot.module.css";

export interface ErrorPlotProps {
  readonly lines: readonly { readonly nominal: string; readonly error: string }[];
  readonly expandedUncertainty: string;
}

const WIDTH = 640;
const HEIGHT = 190;
const LEFT = 70;
const RIGHT = 14;
const TOP = 12;
const BOTTOM = 40;

/** Errors of the certified lines with U around each. Pixels only: floats are enough here. */
export function ErrorPlot({ lines, expandedUncertainty }: ErrorPlotProps) {
  const points = lines.map((line) => ({ x: Number(line.nominal), y: Number(line.error) }));
  const u = Number(expandedUncertainty);
  const first = points[0];
  const last = points.at(-1);
  if (!first || !last || last.x <= first.x || !points.every((one) => Number.isFinite(one.x + one.y + u))) {
    return null;
  }
  const reach = Math.max(...points.map((one) => Math.abs(one.y) + u)) || 1;
  const x = (value: number): number =>
    LEFT + ((value - first.x) / (last.x - first.x)) * (WIDTH - LEFT - RIGHT);
  const y = (value: number): number => TOP + ((reach - value) / (2 * reach)) * (HEIGHT - TOP - BOTTOM);
  const bars = points.map((one) => `M${x(one.x)} ${y(one.y - u)}V${y(one.y + u)}`).join("");
  const largest = points.reduce((a, b) => (Math.abs(b.y) > Math.abs(a.y) ? b : a));
  return (
    <figure>
      <svg
        className={styles.plot}
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={`Errors of ${points.length} lines from ${first.x} to ${last.x} µm, each ± ${u} µm. Largest: ${largest.y} µm at ${largest.x} µm.`}
      >
        <path
          className={styles.axis}
          d={`M${LEFT} ${y(0)}H${WIDTH - RIGHT} M${LEFT} ${TOP}V${HEIGHT - BOTTOM}`}
        />
        <path
          className={styles.ticks}
          d={points.map((one) => `M${x(one.x)} ${HEIGHT - BOTTOM}v6`).join("")}
        />
        <path className={styles.bars} d={bars} />
        {points.map((one) => (
          <circle key={one.x} className={styles.point} cx={x(one.x)} cy={y(one.y)} r="4" />
        ))}
        {[reach, 0, -reach].map((value) => (
          <text key={value} className={styles.number} x={LEFT - 10} y={y(value) + 5} textAnchor="end">
            {signed(value)}
          </text>
        ))}
        <text className={styles.number} x={LEFT} y={HEIGHT - 14} textAnchor="middle">
          {first.x}
        </text>
        <text className={styles.number} x={WIDTH - RIGHT} y={HEIGHT - 14} textAnchor="end">
          {last.x} µm
        </text>
      </svg>
      <figcaption className={styles.caption}>
        Certified − marked in µm at each certified line; bars: ± U ({expandedUncertainty} µm).
      </figcaption>
    </figure>
  );
}

function signed(value: number): string {
  const text = Number(Math.abs(value).toPrecision(2)).toString();
  if (value === 0) return "0";
  return `${value < 0 ? "−" : "+"}${text}`;
}
