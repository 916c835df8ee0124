import type { Certificate, CertificateLine } from "#core/contract/records/stage-micrometer.ts";
import { asSentence } from "#core/quantity/as-sentence.ts";
import { trueMinus } from "#core/quantity/printed-number.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { shownDay, shownInstant } from "../../../parts/bench-words/instant.ts";
import { TouchedButton } from "../../../parts/bench-words/TouchedButton.tsx";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Facts } from "../../../parts/layout/Facts.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { Notice } from "../../../parts/Notice.tsx";
import { AttachmentsPanel } from "../item/AttachmentsPanel.tsx";
import { HistoryPanel } from "../item/HistoryPanel.tsx";
import styles from "./CertificateDetail.module.css";
import { SIGN_WORDS } from "./certificate-sign.ts";
import { ErrorPlot } from "./ErrorPlot.tsx";

const CERTIFICATE_COLUMNS: readonly Column<CertificateLine>[] = [
  { key: "nominal", title: "Marked / µm", number: true, names: true, cell: (line) => line.nominal },
  { key: "value", title: "On the certificate / µm", number: true, cell: (line) => line.typedValue },
  { key: "error", title: "Certified − marked / µm", number: true, cell: (line) => trueMinus(line.error) },
];

const UNCERTAINTY_COLUMN: Column<CertificateLine> = {
  key: "u",
  title: "U of the line / µm",
  number: true,
  cell: (line) => line.expandedUncertainty ?? "–",
};

/** The columns of a certificate's table; U only where it is stated for each line. */
export function certificateColumns({
  lines,
}: Pick<Certificate, "lines">): readonly Column<CertificateLine>[] {
  const isByLine = lines.some((line) => line.expandedUncertainty !== undefined);
  return isByLine ? [...CERTIFICATE_COLUMNS, UNCERTAINTY_COLUMN] : CERTIFICATE_COLUMNS;
}

/** U of an interval as the certificate states it. */
export function statedUncertainty({ lines, expandedUncertainty, uncertaintyPerMm }: Certificate): string {
  if (lines.some((line) => line.expandedUncertainty !== undefined)) {
    return `by its two lines, each at most ${expandedUncertainty} µm`;
  }
  return uncertaintyPerMm === undefined
    ? `${expandedUncertainty} µm`
    : `${expandedUncertainty} µm + ${uncertaintyPerMm} µm per mm`;
}

export interface CertificateDetailProps {
  readonly certificate: Certificate;
  readonly onReplace: () => void;
}

/** One certificate in full, with its errors drawn. */
export function CertificateDetail({ certificate, onReplace }: CertificateDetailProps) {
  const nameOf = usePersonName();
  const replacements = useCall("certificates.replacements", {});
  const replacement = replacements.data?.find((one) => one.certificateId === certificate.id);
  const corrects = replacements.data?.find((one) => one.replacedBy === certificate.id);
  const micrometers = useCall("micrometers.list", {});
  const numberOf = (id: string): string =>
    micrometers.data?.flatMap((one) => one.certificates).find((one) => one.id === id)?.number ?? id;
  const { lines, expandedUncertainty } = certificate;
  return (
    <Panel
      title={`Certificate ${certificate.number}${replacement ? ": replaced" : ""}`}
      lead={certificate.laboratory}
      actions={
        <>
          {replacement ? null : <Button onClick={onReplace}>Enter a corrected one</Button>}
          <TouchedButton subject={{ kind: "certificate", id: certificate.id }} />
        </>
      }
    >
      <div className={styles.certificate}>
        {replacement ? (
          <Notice
            kind="care"
            title={`Replaced on ${shownDay(replacement.at)} by ${numberOf(replacement.replacedBy)}.`}
          >
            {asSentence(replacement.reason)} It is not used for calibrations any more (
            {nameOf(replacement.by)}).
          </Notice>
        ) : null}
        {corrects ? (
          <Notice>
            It corrects {numberOf(corrects.certificateId)}: {asSentence(corrects.reason)}
          </Notice>
        ) : null}
        <Facts
          facts={[
            ["Accreditation", certificate.accreditation],
            ["Calibrated on", certificate.calibratedOn],
            ["Due on", certificate.dueOn],
            ["Why this interval", certificate.dueReason],
            ["Reference temperature", `${certificate.temperature} °C`],
            ["Expanded uncertainty U of an interval", statedUncertainty(certificate)],
            ["Coverage factor k", certificate.coverageFactor],
            ["Effective degrees of freedom of U", certificate.degreesOfFreedom ?? null],
            ["Second column", SIGN_WORDS[certificate.sign].short],
            ["Entered", shownInstant(certificate.registeredAt)],
          ]}
        />
        <ErrorPlot lines={lines} expandedUncertainty={expandedUncertainty} />
        <DataTable
          caption="Certified lines"
          columns={certificateColumns(certificate)}
          rows={lines}
          rowKey={(line) => line.nominal}
          empty="No line."
        />
        <AttachmentsPanel
          subject={{ kind: "certificate", id: certificate.id }}
          name={`certificate ${certificate.number}`}
        />
        <HistoryPanel
          item={{ kind: "certificate", id: certificate.id }}
          name={`certificate ${certificate.number}`}
        />
      </div>
    </Panel>
  );
}
