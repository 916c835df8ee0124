import styles from "./keypad.module.css";
import { KEYPAD_ACTS } from "./keypad-acts.ts";

/** What may follow `/` beside a turret position. */
export function KeypadActs() {
  return (
    <ul className={styles.acts}>
      {KEYPAD_ACTS.map(({ key, words }) => (
        <li key={key}>
          <kbd>{key}</kbd> {words}
        </li>
      ))}
    </ul>
  );
}
