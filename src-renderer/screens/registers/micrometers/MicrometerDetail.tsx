import { useState } from "react";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { Button } from "../../../parts/Button.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { Notice } from "../../../parts/Notice.tsx";
import { CertificateDetail } from "../certificates/CertificateDetail.tsx";
import { CertificateForm } from "../certificates/CertificateForm.tsx";
import { ItemPanel } from "../item/ItemPanel.tsx";

export interface MicrometerDetailProps {
  readonly micrometer: StageMicrometer;
  readonly onCertificate: () => void;
  readonly onLabels: () => void;
}

/** One stage micrometer in full, with its certificates, newest first. */
export function MicrometerDetail({ micrometer, onCertificate, onLabels }: MicrometerDetailProps) {
  const [replacing, setReplacing] = useState<Certificate | null>(null);
  const certificates = [...micrometer.certificates].sort((a, b) =>
    b.calibratedOn.localeCompare(a.calibratedOn),
  );
  if (replacing) {
    return (
      <Panel title={`Corrected certificate for ${micrometer.name}, in the place of ${replacing.number}`}>
        <CertificateForm
          micrometer={micrometer}
          replaces={replacing}
          onSaved={() => setReplacing(null)}
          onCancel={() => setReplacing(null)}
        />
      </Panel>
    );
  }
  return (
    <>
      <ItemPanel
        item={{
          kind: "stage micrometer",
          id: micrometer.id,
          name: micrometer.name,
          maker: micrometer.maker,
          serial: micrometer.serial,
        }}
        facts={[
          ["Serial number", micrometer.serial],
          ["Maker", micrometer.maker],
          ["Length of the scale", `${micrometer.scaleLengthUm} µm`],
          ["Divisions", micrometer.divisions],
          ["Made of", micrometer.substrate],
          ["Cover glass", micrometer.cover ?? null],
          ["Kept at", micrometer.keptAt ?? null],
          ["Linear expansion", `(${micrometer.expansion} ± ${micrometer.expansionHalfWidth}) per kelvin`],
        ]}
        registeredAt={micrometer.registeredAt}
        actions={
          <>
            <Button onClick={onCertificate}>Enter a certificate</Button>
            <Button onClick={onLabels}>Labels to print</Button>
          </>
        }
      />
      {certificates.length === 0 ? (
        <Notice
          kind="care"
          title="No certificate: nothing calibrated with this slide can be traced."
          hint="Enter its certificate before calibrating with it."
        />
      ) : null}
      {certificates.map((certificate) => (
        <CertificateDetail
          key={certificate.id}
          certificate={certificate}
          onReplace={() => setReplacing(certificate)}
        />
      ))}
    </>
  );
}
