import type { ReactNode } from "react";
import styles from "./Facts.module.css";

/** A record in full: each thing with its name. Empty text is said to be not recorded. */
export function Facts({ facts }: { facts: readonly (readonly [name: string, value: ReactNode])[] }) {
  return (
    <dl className={styles.facts}>
      {facts.map(([name, value]) => (
        <div key={name} className={styles.fact}>
          <dt>{name}</dt>
          <dd>
            {value === "" || value === null ? <span className={styles.missing}>not recorded</span> : value}
          </dd>
        </div>
      ))}
    </dl>
  );
}
