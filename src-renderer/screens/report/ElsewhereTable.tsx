import type { ReportElsewhere } from "#core/contract/records/exchange.ts";
import { NO_CHAIN } from "#core/measurement/elsewhere-words.ts";
import styles from "./report.module.css";

/** Sizes that came in micrometres: apart from the statistics of what was measured here. */
export function ElsewhereTable({ lines }: { lines: readonly ReportElsewhere[] }) {
  if (lines.length === 0) return null;
  return (
    <section aria-label="Converted elsewhere">
      <table className={styles.table}>
        <caption>Converted elsewhere, not traceable (µm)</caption>
        <thead>
          <tr>
            <th scope="col">Dimension</th>
            <th scope="col">Converted by</th>
            <th scope="col">n</th>
            <th scope="col">mean</th>
            <th scope="col">s</th>
            <th scope="col">min</th>
            <th scope="col">max</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={`${line.name} ${line.convertedBy}`}>
              <th scope="row">{line.name}</th>
              <td data-as-written>{line.convertedBy}</td>
              <td>{line.n}</td>
              <td>{line.mean}</td>
              <td>{line.s}</td>
              <td>{line.least}</td>
              <td>{line.greatest}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>{NO_CHAIN}</p>
    </section>
  );
}
