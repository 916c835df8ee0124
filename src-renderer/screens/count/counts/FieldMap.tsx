import type { CountField } from "#core/contract/records/count.ts";
import { placeWords } from "#core/measurement/place-words.ts";
import { PositionMap } from "../../../charts/PositionMap.tsx";
import { stageMaps } from "../../../charts/stage-maps.ts";
import styles from "../CountTab.module.css";

const CAPTION = {
  verniers: "Positions as read from the stage verniers, one scale.",
  squares: "Squares of the finder slide: letters from the left, numbers from above.",
} as const;

/** Where the counted fields lie on the stage, to scale; each by its number. */
export function FieldMap({ fields }: { fields: readonly Pick<CountField, "ordinal" | "position">[] }) {
  const placed = fields.flatMap(({ ordinal, position }) => (position ? [{ ordinal, stage: position }] : []));
  return stageMaps(placed).map(({ kind, places, ends }) => (
    <figure key={kind}>
      <PositionMap
        marks={places.map(({ of, across, up }) => ({ across, up, name: String(of.ordinal) }))}
        label={`Map of counted fields. ${places.map(({ of }) => `${of.ordinal}: ${placeWords(of.stage)}`).join("; ")}`}
        ends={ends}
      />
      <figcaption className={styles.soft}>{CAPTION[kind]}</figcaption>
    </figure>
  ));
}
