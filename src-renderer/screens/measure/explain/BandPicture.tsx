import styles from "./explain.module.css";
import { type BandPart, bandWords, type HistoryBand } from "./history-band.ts";

const WIDTH = 400;
const HEIGHT = 38;
const ROWS = { elsewhere: 9, here: 23 } as const;

/** Where earlier values of the label lie: range as a line, spread as a bar, median as a stroke; this one as a pointer. */
export function BandPicture({ band }: { band: HistoryBand }) {
  const { from, to, elsewhere, here, live } = band;
  if (!elsewhere && !here) return null;
  const x = (value: number): number => ((value - from) / (to - from)) * WIDTH;
  return (
    <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={bandWords(band)} className={styles.band}>
      {elsewhere ? <Part part={elsewhere} y={ROWS.elsewhere} x={x} kind="elsewhere" /> : null}
      {here ? <Part part={here} y={ROWS.here} x={x} kind="here" /> : null}
      {live ? (
        <path
          className={styles.live}
          d={`M${x(live.at)} ${HEIGHT - 1} l-5 0 l5 -8 l5 8 Z M${x(live.at)} ${HEIGHT - 8} V2`}
        />
      ) : null}
    </svg>
  );
}

interface PartProps {
  readonly part: BandPart;
  readonly y: number;
  readonly x: (value: number) => number;
  readonly kind: "elsewhere" | "here";
}

function Part({ part, y, x, kind }: PartProps) {
  const left = x(part.low);
  const width = Math.max(2, x(part.high) - left);
  return (
    <g className={styles[kind]}>
      <line x1={x(part.least)} x2={x(part.greatest)} y1={y} y2={y} />
      <rect x={left} y={y - 4} width={width} height={8} />
      <line x1={x(part.middle)} x2={x(part.middle)} y1={y - 6} y2={y + 6} className={styles.middle} />
    </g>
  );
}
