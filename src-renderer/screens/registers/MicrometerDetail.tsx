import type { StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { Button } from "../../parts/Button.tsx";
import { Facts } from "../../parts/Facts.tsx";
import { shownInstant } from "../../parts/instant.ts";
import { Notice } from "../../parts/Notice.tsx";
import { Panel } from "../../parts/Panel.tsx";
import { CertificateDetail } from "./CertificateDetail.tsx";

export interface MicrometerDetailProps {
  readonly micrometer: StageMicrometer;
  readonly onCertificate: () => void;
}

/** One stage micrometer in full, with its certificates, newest first. */
export function MicrometerDetail({ micrometer, onCertificate }: MicrometerDetailProps) {
  const certificates = [...micrometer.certificates].sort((a, b) =>
    b.calibratedOn.localeCompare(a.calibratedOn),
  );
  return (
    <>
      <Panel title={micrometer.name} actions={<Button onClick={onCertificate}>Enter a certificate</Button>}>
        <Facts
          facts={[
            ["Serial number", micrometer.serial],
            ["Maker", micrometer.maker],
            ["Length of the scale", `${micrometer.scaleLengthUm} µm`],
            ["Divisions", micrometer.divisions],
            ["Made of", micrometer.substrate],
            ["Linear expansion", `(${micrometer.expansion} ± ${micrometer.expansionHalfWidth}) per kelvin`],
            ["Registered", shownInstant(micrometer.registeredAt)],
          ]}
        />
      </Panel>
      {certificates.length === 0 ? (
        <Notice
          kind="care"
          title="No certificate: nothing calibrated with this slide can be traced."
          hint="Enter its certificate before calibrating with it."
        />
      ) : null}
      {certificates.map((certificate) => (
        <CertificateDetail key={certificate.id} certificate={certificate} />
      ))}
    </>
  );
}
