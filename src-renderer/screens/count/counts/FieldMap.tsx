import type { CountField } from "#core/contract/records/count.ts";
import { PositionMap } from "../../../charts/PositionMap.tsx";
import styles from "../CountTab.module.css";
import { mappedFields } from "./field-map.ts";

/** Where the counted fields lie on the stage, to scale; each by its number. */
export function FieldMap({ fields }: { fields: readonly Pick<CountField, "ordinal" | "position">[] }) {
  const placed = mappedFields(fields);
  const words = placed.map(({ field, x, y }) => `${field}: ${x}, ${y}`).join("; ");
  return (
    <figure>
      <PositionMap
        marks={placed.map(({ field, ...place }) => ({ ...place, name: String(field) }))}
        label={`Map of counted fields, x and y in mm. ${words}`}
      />
      <figcaption className={styles.soft}>Positions as read from the stage verniers, one scale.</figcaption>
    </figure>
  );
}
