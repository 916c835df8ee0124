import { KEYMAP, type KeyEntry } from "../../../window/keymap.ts";
import styles from "./CountStrip.module.css";

const ENTRIES: readonly KeyEntry[] = KEYMAP;
/** What the drawn keypad does not say by itself. */
const SAID: readonly string[] = ["count.number", "count.find", "count.measure", "count.pause"];

/** Keys that need a word more than the drawn keypad has room for. */
export function CountKeyBar() {
  return (
    <section className={styles.keys} aria-label="Keys">
      {ENTRIES.filter((entry) => SAID.includes(entry.id)).map((entry) => (
        <span key={entry.id} className={styles.keyWords}>
          {entry.keys.map((key) => (
            <kbd key={key}>{key}</kbd>
          ))}{" "}
          {entry.words}
        </span>
      ))}
    </section>
  );
}
