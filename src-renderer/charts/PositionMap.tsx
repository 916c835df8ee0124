import type { MappedPoint } from "#core/drawing/position-map.ts";
import styles from "./position-map.module.css";

export interface MapMark extends MappedPoint {
  /** Unique on the map, and written beside the mark. */
  readonly name: string;
  /** Drawn with a ring: the one that is spoken of. */
  readonly isChosen?: boolean;
  /** Drawn hollow, as what no longer counts. */
  readonly isStruck?: boolean;
}

export interface PositionMapProps<M extends MapMark> {
  readonly marks: readonly M[];
  /** What it shows, and where it is told in words. */
  readonly label: string;
  /** Written at the left and right end of the lower edge, and at the lower and upper end of the left one. */
  readonly ends?: { readonly across: readonly [string, string]; readonly up: readonly [string, string] };
  /** By pointer; whoever shows the map gives the same choice to the keyboard, in a list beside it. */
  readonly onChoose?: (mark: M) => void;
}

const SIDE = 300;
const EDGE = 30;
/** With more marks than these their names would hide them: only the chosen one keeps its name. */
const MOST_NAMED = 60;

/** Positions on the stage as a drawing, to one scale in both directions. */
export function PositionMap<M extends MapMark>({ marks, label, ends, onChoose }: PositionMapProps<M>) {
  const at = (share: number): number => EDGE + share * (SIDE - 2 * EDGE);
  const isNamed = marks.length <= MOST_NAMED;
  return (
    <svg className={styles.map} viewBox={`0 0 ${SIDE} ${SIDE}`} role="img" aria-label={label}>
      <rect className={styles.frame} x={1} y={1} width={SIDE - 2} height={SIDE - 2} />
      {ends ? (
        <g className={styles.ends}>
          <text x={6} y={SIDE - 6}>
            {ends.across[0]}
          </text>
          <text x={SIDE - 6} y={SIDE - 6} textAnchor="end">
            {ends.across[1]}
          </text>
          <text x={6} y={SIDE - 20}>
            {ends.up[0]}
          </text>
          <text x={6} y={15}>
            {ends.up[1]}
          </text>
        </g>
      ) : null}
      {marks.map((mark) => {
        const [x, y] = [at(mark.across), at(1 - mark.up)];
        return (
          // biome-ignore lint/a11y/noStaticElementInteractions: the list beside the map has the same choice for keys
          <g
            key={mark.name}
            className={onChoose ? styles.choosable : undefined}
            onClick={onChoose ? () => onChoose(mark) : undefined}
          >
            {onChoose ? <circle className={styles.touched} cx={x} cy={y} r={11} /> : null}
            {mark.isChosen ? <circle className={styles.ring} cx={x} cy={y} r={8} /> : null}
            <circle className={mark.isStruck ? styles.hollow : styles.mark} cx={x} cy={y} r={4} />
            {isNamed || mark.isChosen ? (
              <text className={styles.name} x={x + 8} y={y + 4}>
                {mark.name}
              </text>
            ) : null}
          </g>
        );
      })}
    </svg>
  );
}
