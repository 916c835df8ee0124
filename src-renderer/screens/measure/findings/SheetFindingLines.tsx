import { useSyncExternalStore } from "react";
import { StateMark } from "../../../parts/StateMark.tsx";
import styles from "./findings.module.css";
import type { FindingsFeed } from "./findings-feed.ts";

/** What the sheet as a whole has to say, what can be wrong first; nothing where there is nothing. */
export function SheetFindingLines({ findings }: { findings: FindingsFeed }) {
  const lines = useSyncExternalStore(findings.subscribe, findings.lines);
  if (lines.length === 0) return null;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it can be scrolled, so it must be reached by keyboard
    <section className={styles.scroll} tabIndex={0} aria-label="What the sheet says as a whole">
      <ul className={styles.lines} aria-label="Findings of this sheet">
        {lines.map(({ weight, words }) => (
          <li key={words} className={weight === "note" ? styles.note : undefined}>
            <StateMark state={weight === "wrong" ? "warn" : "none"} /> <span>{words}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
