import type { ReactNode } from "react";
import { Unbroken } from "../Unbroken.tsx";
import styles from "./Facts.module.css";

/** What a thing is called, what it is, and whether it takes a line of its own, as a number with all its digits does. */
type Fact = readonly [name: string, value: ReactNode, width?: "whole line"];

/** A record in full: each thing with its name. Empty text is said to be not recorded. */
export function Facts({ facts }: { facts: readonly Fact[] }) {
  return (
    <dl className={styles.facts}>
      {facts.map(([name, value, width]) => (
        <div key={name} className={styles.fact} data-width={width}>
          <dt>{name}</dt>
          <dd>{shown(value)}</dd>
        </div>
      ))}
    </dl>
  );
}

function shown(value: ReactNode): ReactNode {
  if (value === "" || value === null) return <span className={styles.missing}>not recorded</span>;
  return typeof value === "string" ? <Unbroken text={value} /> : value;
}
