import type { CountField } from "#core/contract/records/count.ts";
import styles from "../CountTab.module.css";
import { mappedFields } from "./field-map.ts";

const SIDE = 300;
const EDGE = 26;

/** Where the counted fields lie on the stage, to scale; each by its number. */
export function FieldMap({ fields }: { fields: readonly Pick<CountField, "ordinal" | "position">[] }) {
  const placed = mappedFields(fields);
  const words = placed.map(({ field, x, y }) => `${field}: ${x}, ${y}`).join("; ");
  const at = (share: number): number => EDGE + share * (SIDE - 2 * EDGE);
  return (
    <figure>
      <svg
        className={styles.map}
        viewBox={`0 0 ${SIDE} ${SIDE}`}
        role="img"
        aria-label={`Map of counted fields, x and y in mm. ${words}`}
      >
        <rect x={1} y={1} width={SIDE - 2} height={SIDE - 2} fill="none" stroke="var(--line)" />
        {placed.map(({ field, across, up }) => (
          <g key={field}>
            <circle cx={at(across)} cy={at(1 - up)} r={4} fill="var(--brass)" />
            <text x={at(across) + 7} y={at(1 - up) + 4} fill="var(--ink)" fontSize={12}>
              {field}
            </text>
          </g>
        ))}
      </svg>
      <figcaption className={styles.soft}>Positions as read from the stage verniers, one scale.</figcaption>
    </figure>
  );
}
