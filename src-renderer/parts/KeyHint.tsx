import { chordInWords } from "../window/key-words.ts";
import styles from "./KeyHint.module.css";

/** A key beside the words of a button; screen readers hear the words alone. */
export function KeyHint({ chord }: { chord: string }) {
  return (
    <span aria-hidden="true" className={styles.key}>
      {chordInWords(chord)}
    </span>
  );
}
