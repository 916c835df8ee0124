import { elsewhereWords, NO_CHAIN } from "#core/measurement/elsewhere-words.ts";
import { FLAG_WORDS } from "#core/measurement/flags.ts";
import { FLAG_TITLES } from "#core/vocabulary/flag.ts";
import { StateMark } from "../../../parts/StateMark.tsx";
import styles from "./explain.module.css";
import type { ExplainedFlag, ExplainedRow } from "./explained-row.ts";

export interface FlagListProps {
  readonly row: ExplainedRow;
  /** Names of the dimensions by key. */
  readonly names: ReadonlyMap<string, string>;
}

/** Each flag of the row: what it means, the numbers that raised it, what to do. */
export function FlagList({ row, names }: FlagListProps) {
  const { elsewhere } = row;
  if (row.flags.length === 0 && !elsewhere) {
    return <p className={styles.none}>Row {row.row} has no flag.</p>;
  }
  return (
    <ul className={styles.flags}>
      {elsewhere?.sizes.map(({ dimension, typed }) => (
        <li key={dimension}>
          <p className={styles.flag}>
            <StateMark state="warn" />
            <span>
              <strong data-as-written>
                {names.size > 1 ? `${names.get(dimension) ?? dimension}: ` : ""}
                {elsewhereWords(typed, elsewhere)}.
              </strong>{" "}
              <span className={styles.meaning}>{NO_CHAIN} It is in no figure of this sheet.</span>
            </span>
          </p>
        </li>
      ))}
      {row.flags.map((one) => (
        <li key={`${one.dimension} ${one.flag}`}>
          <FlagWords explained={one} name={names.size > 1 ? (names.get(one.dimension) ?? null) : null} />
        </li>
      ))}
    </ul>
  );
}

function FlagWords({
  explained: { flag, facts, isPast },
  name,
}: {
  explained: ExplainedFlag;
  name: string | null;
}) {
  const { meaning, whatToDo } = FLAG_WORDS[flag];
  return (
    <>
      <p className={styles.flag}>
        <StateMark state="warn" />
        <span>
          <strong>
            {FLAG_TITLES[flag]}
            {name === null ? "" : `, ${name}`}.
          </strong>{" "}
          <span className={styles.meaning}>
            {meaning}
            {isPast ? " It was so when the reading was taken." : ""}{" "}
          </span>
          <em>{whatToDo}</em>
        </span>
      </p>
      {facts.length > 0 ? (
        <dl className={styles.facts}>
          {facts.map((fact) => (
            <div key={fact.name}>
              <dt>{fact.name}</dt>
              <dd>{fact.value}</dd>
            </div>
          ))}
        </dl>
      ) : null}
    </>
  );
}
