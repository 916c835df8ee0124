import type { ReportTable } from "#core/contract/records/exchange.ts";
import { HistogramPlot } from "../../charts/HistogramPlot.tsx";
import styles from "./report.module.css";

/** The statistics of one quantity, a line per label, and the picture of all sizes that count. */
export function ReportTables({ tables }: { tables: readonly ReportTable[] }) {
  return tables.map((table) => (
    <section key={table.name} aria-label={table.name}>
      <StatisticsTable table={table} />
      {table.lines.some((line) => line.classes !== "") ? (
        <ul className={styles.list}>
          {table.lines
            .filter((line) => line.classes !== "")
            .map((line) => (
              <li key={line.label}>{`${line.label === "" ? "(no label)" : line.label}: ${line.classes}`}</li>
            ))}
        </ul>
      ) : null}
      {table.histogram.length > 0 ? (
        <figure>
          <HistogramPlot {...table} />
        </figure>
      ) : null}
    </section>
  ));
}

function StatisticsTable({ table }: { table: ReportTable }) {
  const unit = table.unit === "" ? "" : ` (${table.unit})`;
  return (
    <table className={styles.table}>
      <caption>
        {table.name}
        {unit}
      </caption>
      <thead>
        <tr>
          <th scope="col">Label</th>
          <th scope="col">n</th>
          <th scope="col" className={styles.mean}>
            mean ± U
          </th>
          <th scope="col">k</th>
          <th scope="col">s</th>
          <th scope="col">CV (%)</th>
          <th scope="col">min</th>
          {table.percentileHeadings.map((heading) => (
            <th key={heading} scope="col">
              {heading}
            </th>
          ))}
          <th scope="col">max</th>
          <th scope="col">95 % of mean</th>
        </tr>
      </thead>
      <tbody>
        {table.lines.map((line) => (
          <tr key={line.label}>
            <th scope="row">{line.label === "" ? "(no label)" : line.label}</th>
            <td>{line.n}</td>
            <td className={styles.mean}>{line.mean}</td>
            <td>{line.coverage}</td>
            <td>{line.s}</td>
            <td>{line.variation}</td>
            <td>{line.least}</td>
            {line.percentiles.map((value, at) => (
              <td key={table.percentileHeadings[at] ?? at}>{value}</td>
            ))}
            <td>{line.greatest}</td>
            <td className={styles.interval}>{line.interval}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
