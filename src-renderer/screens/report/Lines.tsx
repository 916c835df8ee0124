import styles from "./report.module.css";

/** A heading with its lines; `more`: how many are not listed. */
export function Lines({
  title,
  lines,
  more = 0,
}: {
  title: string;
  lines: readonly string[];
  more?: number;
}) {
  return (
    <section aria-label={title}>
      <h3>{title}</h3>
      <ul className={styles.list}>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
        {more > 0 ? <li>… and {more} more: the workbook lists all of them.</li> : null}
      </ul>
    </section>
  );
}
