import type { ReactNode } from "react";
import styles from "./FieldGrid.module.css";

/** Sets fields side by side where there is room; `title` names the group. */
export function FieldGrid({ title, children }: { title?: string; children: ReactNode }) {
  return title ? (
    <fieldset>
      <legend className={styles.legend}>{title}</legend>
      <div className={styles.grid}>{children}</div>
    </fieldset>
  ) : (
    <div className={styles.grid}>{children}</div>
  );
}
