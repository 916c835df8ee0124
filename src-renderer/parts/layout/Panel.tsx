import { type ReactNode, useId } from "react";
import styles from "./Panel.module.css";
import { Ruler } from "./Ruler.tsx";

export interface PanelProps {
  readonly title: string;
  /** A line under the title. */
  readonly lead?: ReactNode;
  /** Buttons at the right of the title. */
  readonly actions?: ReactNode;
  /** Level of the heading within the screen. */
  readonly level?: 2 | 3;
  readonly children: ReactNode;
}

/** A part of a screen under its own heading, closed off by an engraved scale. */
export function Panel({ title, lead, actions, level = 2, children }: PanelProps) {
  const id = useId();
  const Heading = level === 2 ? "h2" : "h3";
  return (
    <section className={styles.panel} aria-labelledby={id}>
      <header className={styles.head}>
        <div className={styles.words}>
          <Heading id={id}>{title}</Heading>
          {lead ? <p className={styles.lead}>{lead}</p> : null}
        </div>
        {actions ? <div className={styles.actions}>{actions}</div> : null}
      </header>
      <Ruler />
      <div className={styles.body}>{children}</div>
    </section>
  );
}
