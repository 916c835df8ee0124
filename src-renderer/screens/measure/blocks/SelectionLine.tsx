import type { GridStore } from "../../../grid/grid-store.ts";
import { selectionWords } from "../../../grid/selection.ts";
import { useLivePart } from "../../../live/use-live-part.ts";
import styles from "./Blocks.module.css";

/** What is selected and what came of the last copy: for the eye, and politely for a screen reader. */
export function SelectionLine({ store, said }: { store: GridStore; said: string | null }) {
  const selected = useLivePart(store, selectionWords);
  return (
    <p className={styles.selection} role="status" aria-label="Selection">
      {[selected, said].filter((one) => one !== null).join(" · ")}
    </p>
  );
}
