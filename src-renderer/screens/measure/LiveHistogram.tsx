import styles from "./LivePanel.module.css";
import type { LiveBar } from "./live-figures.ts";

const WIDTH = 300;
const HEIGHT = 112;
const FOOT = 20;
const HEAD = 16;

/** How often each size was found so far, with the limits of the classes at both ends and in the middle. */
export function LiveHistogram({ bars, title }: { bars: readonly LiveBar[]; title: string }) {
  if (bars.length === 0) return <p className={styles.none}>A picture needs two different sizes.</p>;
  const most = bars.reduce((greatest, bar) => Math.max(greatest, bar.count), 1);
  const step = WIDTH / bars.length;
  const limits = [...bars.map((bar) => bar.from), bars.at(-1)?.to ?? ""];
  const shown = new Set([0, Math.floor(bars.length / 2), bars.length]);
  const words = bars.map((bar) => `${bar.from} to ${bar.to}: ${bar.count}`).join("; ");
  return (
    <svg
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={`${title}, µm. ${words}`}
      className={styles.plot}
    >
      {bars.map((bar, at) => {
        const height = ((HEIGHT - FOOT - HEAD) * bar.count) / most;
        const top = HEIGHT - FOOT - height;
        return (
          <g key={bar.from}>
            <rect x={at * step + 1} y={top} width={step - 2} height={height} className={styles.bar} />
            {bar.count > 0 ? (
              <text x={(at + 0.5) * step} y={top - 4} className={styles.count}>
                {bar.count}
              </text>
            ) : null}
          </g>
        );
      })}
      <line x1={0} x2={WIDTH} y1={HEIGHT - FOOT} y2={HEIGHT - FOOT} className={styles.axis} />
      {limits.map((limit, at) =>
        shown.has(at) ? (
          <text
            key={limit}
            x={at * step}
            y={HEIGHT - 5}
            className={styles.limit}
            data-at={at === 0 ? "start" : at === bars.length ? "end" : "middle"}
          >
            {limit}
          </text>
        ) : null,
      )}
    </svg>
  );
}
