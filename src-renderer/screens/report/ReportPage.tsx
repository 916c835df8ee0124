import { useEffect } from "react";
import type { SheetReport } from "#core/contract/records/exchange.ts";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { Facts } from "../../parts/layout/Facts.tsx";
import { ReportTables } from "./ReportTables.tsx";
import styles from "./report.module.css";

const FOOT = "--report-foot";

/** The foot of the printed pages; a string of the style sheet, so quotes and backslashes are escaped. */
function footOf({ number, program, dataSha256 }: SheetReport): string {
  const text = `${number} · ${program} · data SHA-256 ${dataSha256}`;
  return `"${text.replace(/["\\]/g, (character) => `\\${character}`)}"`;
}

/** A sheet as a page for a customer or an assessor: what was measured, how, with what result and what doubt. */
export function ReportPage({ report }: { report: SheetReport }) {
  const foot = footOf(report);
  useEffect(() => {
    const { style } = document.documentElement;
    style.setProperty(FOOT, foot);
    return () => {
      style.removeProperty(FOOT);
    };
  }, [foot]);
  return (
    <article className={styles.page} data-report-page aria-label={`Report of ${report.number}`}>
      <header className={styles.head}>
        <h2>{report.sample}</h2>
        <span className={styles.number}>{report.number}</span>
      </header>
      {report.note === "" ? null : <p>{report.note}</p>}
      <Facts facts={report.facts.map(({ name, value }) => [name, value] as const)} />
      <ReportTables tables={report.tables} />
      {report.strings.length === 0 ? null : (
        <section aria-label="In words">
          <h3>In words</h3>
          <ul className={styles.list}>
            {report.strings.map(({ label, text }) => (
              <li key={label}>
                {label === "" ? "" : `${label}: `}
                {text}
              </li>
            ))}
          </ul>
        </section>
      )}
      <section aria-label="Factors used">
        <h3>Factors used</h3>
        {report.factors.length === 0 ? (
          <p>None: no reading of this sheet had a calibration in force, so there are no sizes.</p>
        ) : (
          <ul className={styles.list}>
            {report.factors.map(({ name, value }) => (
              <li key={name}>{`${name}: ${value}`}</li>
            ))}
          </ul>
        )}
      </section>
      <Lines title="Cautions" lines={report.cautions} />
      {report.struckTotal === 0 ? null : (
        <Lines
          title={`Struck rows: ${report.struckTotal}, left out of the statistics`}
          lines={report.struck.map(
            ({ ordinal, label, reason }) => `Row ${ordinal}${label === "" ? "" : `, ${label}`}: ${reason}`,
          )}
        />
      )}
      <Lines title="How the figures were made" lines={report.rules} />
      <p className={styles.hash}>
        Made {shownInstant(report.madeAt)} UTC with {report.program}. SHA-256 of the data: {report.dataSha256}
      </p>
      <div className={styles.signatures}>
        <p className={styles.signature}>Measured by, date</p>
        <p className={styles.signature}>Reviewed by, date</p>
      </div>
    </article>
  );
}

function Lines({ title, lines }: { title: string; lines: readonly string[] }) {
  return (
    <section aria-label={title}>
      <h3>{title}</h3>
      <ul className={styles.list}>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  );
}
