import type { ReportBySize } from "#core/contract/records/exchange.ts";
import styles from "./report.module.css";

/** Numbers of specimens by the method's own limits, each with its exact interval and, where there is one, its limit. */
export function BySizeTable({ bySize }: { bySize: ReportBySize }) {
  const { title, amount, basis, lines, notes } = bySize;
  const hasLimits = lines.some(({ most }) => most !== "");
  return (
    <section aria-label={title}>
      <table className={styles.table}>
        <caption>{title}</caption>
        <thead>
          <tr>
            <th scope="col">Class</th>
            <th scope="col">n</th>
            <th scope="col">within U of a limit</th>
            <th scope="col" className={styles.mean}>{`number ${basis}`}</th>
            <th scope="col">95 % limits</th>
            {hasLimits ? (
              <>
                <th scope="col">at most</th>
                <th scope="col">conformity</th>
              </>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.words}>
              <th scope="row">{line.words}</th>
              <td>{line.counted}</td>
              <td>{line.near}</td>
              <td className={styles.mean}>{line.number || "–"}</td>
              <td className={styles.interval}>{line.interval || "–"}</td>
              {hasLimits ? (
                <>
                  <td>{line.most || "–"}</td>
                  <td>{line.verdict || "–"}</td>
                </>
              ) : null}
            </tr>
          ))}
        </tbody>
      </table>
      <ul className={styles.list}>
        {[`${amount}.`, ...notes].map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  );
}
