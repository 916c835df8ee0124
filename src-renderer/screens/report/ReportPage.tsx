import type { ReactNode } from "react";
import type { SheetReport } from "#core/contract/records/exchange.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { printedInstant } from "../../parts/bench-words/instant.ts";
import { Facts } from "../../parts/layout/Facts.tsx";
import { usePaperFoot } from "../../parts/layout/use-paper-foot.ts";
import { BySizeTable } from "./BySizeTable.tsx";
import { ElsewhereTable } from "./ElsewhereTable.tsx";
import { Lines } from "./Lines.tsx";
import { ReportHistory } from "./ReportHistory.tsx";
import { ReportTables } from "./ReportTables.tsx";
import styles from "./report.module.css";
import { SignedBy } from "./SignedBy.tsx";

/** The foot of the printed pages. */
const footOf = ({ number, rowsSha256 }: SheetReport): string =>
  `${number} · rows and results SHA-256 ${rowsSha256}`;

function whenRead({ readFrom, readTo }: SheetReport): string {
  if (readFrom === null || readTo === null) return "nothing has been read yet";
  return `${printedInstant(readFrom)} to ${printedInstant(readTo)}`;
}

/** A sheet as a page for a customer or an assessor: what was measured, how, with what result and what doubt. */
export function ReportPage({ report, pictures }: { report: SheetReport; pictures?: ReactNode }) {
  usePaperFoot("--report-foot", footOf(report));
  const { laboratory, factors } = report;
  return (
    <article className={styles.page} data-report-page aria-label={`Report of ${report.number}`}>
      {laboratory.name === "" && laboratory.address === "" ? null : (
        <address className={styles.laboratory}>
          <strong>{laboratory.name}</strong>
          {laboratory.address === "" ? null : <span>{laboratory.address}</span>}
        </address>
      )}
      <header className={styles.head}>
        <h2>{report.sample}</h2>
        <span className={styles.number}>Report {report.number}</span>
      </header>
      {report.note === "" ? null : <p>{report.note}</p>}
      <Facts
        facts={[
          ...report.facts.map(({ name, value }) => [name, value] as const),
          ["Read", whenRead(report)],
          ["Report made", `${printedInstant(report.madeAt)}, with ${report.program}`],
        ]}
      />
      <ReportTables tables={report.tables} />
      <ElsewhereTable lines={report.elsewhere} />
      {report.bySize ? <BySizeTable bySize={report.bySize} /> : null}
      {report.strings.length === 0 ? null : (
        <Lines
          title="In words"
          lines={report.strings.map(({ label, text }) => (label === "" ? text : `${label}: ${text}`))}
        />
      )}
      {factors.length === 0 ? (
        <Lines
          title="Factors used"
          lines={["None: no reading of this sheet had a calibration in force, so there are no sizes."]}
        />
      ) : (
        <Lines title="Factors used" lines={factors.map(({ name, value }) => `${name}: ${value}`)} />
      )}
      {report.conformity.length > 0 ? <Lines title="Conformity" lines={report.conformity} /> : null}
      <ReportHistory report={report} />
      <Lines title="Cautions" lines={report.cautions} />
      {report.struckTotal === 0 ? null : (
        <Lines
          title={`${countedNoun(report.struckTotal, "struck row")}, left out of the statistics`}
          lines={report.struck.map(
            ({ ordinal, label, reason }) => `Row ${ordinal}${label === "" ? "" : `, ${label}`}: ${reason}`,
          )}
          more={report.struckTotal - report.struck.length}
        />
      )}
      {pictures}
      <Lines title="How the figures were made" lines={report.rules} />
      <SignedBy report={report} />
    </article>
  );
}
