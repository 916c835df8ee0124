import { KEYMAP, type KeyEntry } from "../../app/keymap.ts";
import styles from "./TallyAtWork.module.css";

const ENTRIES: readonly KeyEntry[] = KEYMAP;

/** The keys of the hand, always in sight. */
export function CountKeyBar() {
  return (
    <section className={styles.keys} aria-label="Keys">
      {ENTRIES.filter((entry) => entry.group === "Count").map((entry) => (
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
