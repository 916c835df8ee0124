import { KEYMAP, type KeyEntry } from "../../window/keymap.ts";
import styles from "./MeasureScreen.module.css";

const ENTRIES: readonly KeyEntry[] = KEYMAP;

/** The keys of the daily loop, always in sight. */
export function KeyBar() {
  return (
    <section className={styles.keys} aria-label="Keys">
      {ENTRIES.filter((entry) => entry.group === "Measure").map((entry) => (
        <span key={entry.id} className={styles.key}>
          {entry.keys.map((key) => (
            <kbd key={key}>{key}</kbd>
          ))}{" "}
          {entry.words}
        </span>
      ))}
    </section>
  );
}
