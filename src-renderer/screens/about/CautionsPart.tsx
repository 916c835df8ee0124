import { Caution } from "../../parts/Caution.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import styles from "./About.module.css";
import { CAUTION_GROUPS } from "./cautions.ts";

/** What can hurt a person or mislead a reader. */
export function CautionsPart() {
  return CAUTION_GROUPS.map((group) => (
    <Panel key={group.title} title={group.title}>
      <ul className={styles.list}>
        {group.cautions.map((caution) => (
          <li key={caution.words}>
            <Caution>
              {caution.words} <span className={styles.source}>{caution.source}</span>
            </Caution>
          </li>
        ))}
      </ul>
    </Panel>
  ));
}
