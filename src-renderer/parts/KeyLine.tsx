import styles from "./KeyLine.module.css";

export interface KeyLineProps {
  readonly entries: readonly {
    readonly id: string;
    readonly keys: readonly string[];
    readonly words: string;
  }[];
  /** Keeps to one line where the window is small. */
  readonly folds?: boolean;
}

/** Keys and what they do, always in sight beside the work. */
export function KeyLine({ entries, folds = false }: KeyLineProps) {
  return (
    <section className={styles.keys} data-folds={folds || undefined} aria-label="Keys">
      {entries.map(({ id, keys, words }) => (
        <span key={id} className={styles.key}>
          {keys.map((key) => (
            <kbd key={key}>{key}</kbd>
          ))}{" "}
          {words}
        </span>
      ))}
    </section>
  );
}
