import type { Attachment } from "#core/contract/records/attachment.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { AttachmentList } from "../../parts/attachments/AttachmentList.tsx";
import { Button } from "../../parts/Button.tsx";
import { DataTable } from "../../parts/layout/DataTable.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { certificateColumns, statedUncertainty } from "../registers/certificates/CertificateDetail.tsx";
import { SIGN_WORDS } from "../registers/certificates/certificate-sign.ts";
import styles from "./Trace.module.css";

export interface ChainCertificateProps {
  readonly micrometer: Omit<StageMicrometer, "certificates">;
  readonly certificate: Certificate;
  readonly micrometerAttachments: readonly Attachment[];
  readonly certificateAttachments: readonly Attachment[];
  /** Numbers of the steps of the chain, before their titles. */
  readonly steps: readonly [string, string, string];
}

/** The micrometer, its certificate with the scan, and the laboratory that answers for it. */
export function ChainCertificate(props: ChainCertificateProps) {
  const navigation = useNavigation();
  const { micrometer, certificate, micrometerAttachments, certificateAttachments, steps } = props;
  return (
    <>
      <Panel title={`${steps[0]}Stage micrometer ${micrometer.name}`}>
        <div className={styles.stack}>
          <Facts
            facts={[
              ["Serial number", micrometer.serial],
              ["Maker", micrometer.maker],
              ["Scale", `${micrometer.scaleLengthUm} µm in ${micrometer.divisions}`],
              ["Made of", micrometer.substrate],
              ["Cover glass", micrometer.cover ?? null],
              ["Kept at", micrometer.keptAt ?? null],
            ]}
          />
          {micrometerAttachments.length > 0 ? <AttachmentList attachments={micrometerAttachments} /> : null}
        </div>
      </Panel>
      <Panel
        title={`${steps[1]}Certificate ${certificate.number}`}
        actions={
          <Button
            onClick={() =>
              navigation.go({
                screen: "trace",
                result: null,
                subject: { kind: "certificate", id: certificate.id },
              })
            }
          >
            Other affected results
          </Button>
        }
      >
        <div className={styles.stack}>
          <Facts
            facts={[
              ["Calibrated on", certificate.calibratedOn],
              ["Due on", certificate.dueOn],
              ["Why this interval", certificate.dueReason],
              ["Reference temperature", `${certificate.temperature} °C`],
              [
                "U of an interval",
                `${statedUncertainty(certificate)}, k = ${certificate.coverageFactor}${certificate.degreesOfFreedom ? `, ν = ${certificate.degreesOfFreedom}` : ""}`,
              ],
              ["Second column", SIGN_WORDS[certificate.sign].short],
            ]}
          />
          <DataTable
            caption="Certified lines"
            columns={certificateColumns(certificate)}
            rows={certificate.lines}
            rowKey={(line) => line.nominal}
            empty="No line."
          />
          {certificateAttachments.length > 0 ? (
            <AttachmentList attachments={certificateAttachments} pictures />
          ) : (
            <Notice kind="care" title="No scan of this certificate is kept here.">
              Attach it in Registers, Stage micrometers.
            </Notice>
          )}
        </div>
      </Panel>
      <Panel title={`${steps[2]}Laboratory: ${certificate.laboratory}`}>
        <Facts facts={[["Accreditation", certificate.accreditation]]} />
      </Panel>
    </>
  );
}
