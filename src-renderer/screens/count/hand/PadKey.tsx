import { memo } from "react";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { objects } from "../words.ts";
import styles from "./CountPad.module.css";
import { keyWords } from "./counting-keys.ts";

export interface PadKeyProps {
  readonly category: CountCategory;
  readonly halfUnits: number;
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

/** One key with its category and count. Drawn again only when its own count changes. */
export const PadKey = memo(function PadKey({ category, halfUnits, last, onPress }: PadKeyProps) {
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
      <span className={styles.count}>{objects(halfUnits / 2)}</span>
      <span className={styles.name}>{category.name}</span>
      {category.kind === "object" && !category.halves ? null : (
        <span className={styles.kind}>{category.halves ? "½ allowed" : KIND_WORDS[category.kind]}</span>
      )}
    </button>
  );
});
