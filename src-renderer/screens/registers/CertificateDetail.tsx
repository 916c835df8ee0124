import type { Certificate, CertificateLine } from "#core/contract/records/stage-micrometer.ts";
import { type Column, DataTable } from "../../parts/DataTable.tsx";
import { Facts } from "../../parts/Facts.tsx";
import { shownInstant } from "../../parts/instant.ts";
import { Panel } from "../../parts/Panel.tsx";
import styles from "./CertificateDetail.module.css";
import { SIGN_WORDS } from "./certificate-sign.ts";
import { ErrorPlot } from "./ErrorPlot.tsx";

export const CERTIFICATE_COLUMNS: readonly Column<CertificateLine>[] = [
  { key: "nominal", title: "Marked / µm", number: true, names: true, cell: (line) => line.nominal },
  { key: "value", title: "On the certificate / µm", number: true, cell: (line) => line.typedValue },
  { key: "error", title: "Certified − marked / µm", number: true, cell: (line) => line.error },
];

/** One certificate in full, with its errors drawn. */
export function CertificateDetail({ certificate }: { certificate: Certificate }) {
  const { lines, expandedUncertainty } = certificate;
  return (
    <Panel title={`Certificate ${certificate.number}`} lead={certificate.laboratory}>
      <div className={styles.certificate}>
        <Facts
          facts={[
            ["Accreditation", certificate.accreditation],
            ["Calibrated on", certificate.calibratedOn],
            ["Due on", certificate.dueOn],
            ["Why this interval", certificate.dueReason],
            ["Reference temperature", `${certificate.temperature} °C`],
            ["Expanded uncertainty U of an interval", `${expandedUncertainty} µm`],
            ["Coverage factor k", certificate.coverageFactor],
            ["Second column", SIGN_WORDS[certificate.sign].short],
            ["Entered", shownInstant(certificate.registeredAt)],
          ]}
        />
        <ErrorPlot lines={lines} expandedUncertainty={expandedUncertainty} />
        <DataTable
          caption="Certified lines"
          columns={CERTIFICATE_COLUMNS}
          rows={lines}
          rowKey={(line) => line.nominal}
          empty="No line."
        />
      </div>
    </Panel>
  );
}
