import type { ReactNode } from "react";
import styles from "./Caution.module.css";
import { StateMark } from "./StateMark.tsx";

/** A caution for the person's safety or the reach of a result. */
export function Caution({ children }: { children: ReactNode }) {
  return (
    <p className={styles.caution}>
      <StateMark state="warn" />
      <span>
        <strong>Caution. </strong>
        {children}
      </span>
    </p>
  );
}
