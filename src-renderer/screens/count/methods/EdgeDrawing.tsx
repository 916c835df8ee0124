import type { EdgeRule, FrameEdge } from "#core/counting/methods/edge-rules.ts";
import styles from "../CountTab.module.css";

const LINES: Readonly<Record<FrameEdge, { x1: number; y1: number; x2: number; y2: number }>> = {
  top: { x1: 25, y1: 18, x2: 115, y2: 18 },
  right: { x1: 115, y1: 18, x2: 115, y2: 86 },
  bottom: { x1: 25, y1: 86, x2: 115, y2: 86 },
  left: { x1: 25, y1: 18, x2: 25, y2: 86 },
};
/** An object across the middle of each edge, with its sign. */
const OBJECTS: Readonly<Record<FrameEdge, { x: number; y: number }>> = {
  top: { x: 70, y: 18 },
  right: { x: 115, y: 52 },
  bottom: { x: 70, y: 86 },
  left: { x: 25, y: 52 },
};
const EDGES: readonly FrameEdge[] = ["top", "right", "bottom", "left"];

/** A counting square with an object across each edge: ✓ counts, ✗ does not. */
export function EdgeDrawing({ rule }: { rule: Pick<EdgeRule, "name" | "counted"> }) {
  return (
    <svg className={styles.drawing} viewBox="0 0 140 104" role="img" aria-label={`Edge rule: ${rule.name}`}>
      {EDGES.map((edge) => (
        <line key={edge} {...LINES[edge]} strokeWidth={4} data-counts={rule.counted.includes(edge)} />
      ))}
      {EDGES.map((edge) => {
        const { x, y } = OBJECTS[edge];
        const counts = rule.counted.includes(edge);
        const sign = counts ? `M${x - 5} ${y} l4 5 l7 -10` : `M${x - 5} ${y - 5} l10 10 m0 -10 l-10 10`;
        return (
          <g key={edge} stroke="currentColor" fill="none" strokeWidth={2}>
            <circle cx={x} cy={y} r={12} fill="var(--panel)" />
            <path d={sign} />
          </g>
        );
      })}
    </svg>
  );
}
