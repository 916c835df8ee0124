import { memo } from "react";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { countingUnitOf } from "#core/counting/inputs/counting-unit.ts";
import { objects } from "../words.ts";
import styles from "./CountPad.module.css";
import { keyWords } from "./counting-keys.ts";

export interface PadKeyProps {
  readonly category: CountCategory;
  readonly thousandths: number;
  /** The last press lies on this key. */
  readonly last: boolean;
  readonly onPress: (category: CountCategory) => void;
}

const KIND_WORDS = {
  object: "",
  marker: "marker",
  aside: "beside the total",
  doubtful: "in no result",
} as const;

const UNIT_WORDS = { whole: "", halves: "½ allowed", decimals: "decimals allowed" } as const;

/** One key with its category and count. Drawn again only when its own count changes. */
export const PadKey = memo(function PadKey({ category, thousandths, last, onPress }: PadKeyProps) {
  const unit = UNIT_WORDS[countingUnitOf(category)];
  return (
    <button
      type="button"
      tabIndex={-1}
      className={styles.key}
      data-last={last}
      data-category={category.key}
      // The focus stays where it was, so that Enter goes on meaning a new field.
      onMouseDown={(event) => event.preventDefault()}
      onClick={() => onPress(category)}
    >
      <span className={styles.cap}>{keyWords(category.keyCode)}</span>
      <span className={styles.count}>
        {objects(thousandths / 1000)}
        {category.enough === undefined ? "" : ` / ${category.enough}`}
      </span>
      <span className={styles.name}>{category.name}</span>
      {unit === "" && category.kind === "object" ? null : (
        <span className={styles.kind}>{unit || KIND_WORDS[category.kind]}</span>
      )}
    </button>
  );
});
