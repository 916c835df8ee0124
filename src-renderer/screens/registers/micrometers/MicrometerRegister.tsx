import { useCall } from "../../../bridge/use-call.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import type { LocationOf } from "../../../window/location.ts";
import { useNavigation } from "../../../window/navigation-context.tsx";
import { useFirstHour } from "../../bench/use-first-hour.ts";
import { CertificateForm } from "../certificates/CertificateForm.tsx";
import { LabelSheet } from "../microscopes/LabelSheet.tsx";
import { RegisterFrame, shownRecord } from "../RegisterFrame.tsx";
import { MicrometerDetail } from "./MicrometerDetail.tsx";
import { MicrometerForm } from "./MicrometerForm.tsx";

/** Stage micrometers and the certificates that make them worth measuring with. */
export function MicrometerRegister({ location }: { location: LocationOf<"registers"> }) {
  const navigation = useNavigation();
  const micrometers = useCall("micrometers.list", {});
  const show = (recordId: string | null, form: LocationOf<"registers">["form"] = null) =>
    navigation.go({ screen: "registers", register: "micrometers", recordId, form });
  const { leadOn, beginCalibration } = useFirstHour();
  const micrometer = shownRecord(micrometers.data, location);
  return (
    <RegisterFrame
      location={location}
      shown={micrometer?.id ?? null}
      items={(micrometers.data ?? []).map((one) => ({
        id: one.id,
        name: one.name,
        detail: `serial ${one.serial}${one.certificates.length === 0 ? ", no certificate" : ""}`,
      }))}
      addWords="Register a stage micrometer"
      empty="No stage micrometer is registered yet."
    >
      <CallNotice calls={[micrometers]} waiting="Reading the register …" />
      {location.form === "new" ? (
        <Panel title="New stage micrometer">
          <MicrometerForm
            onSaved={(saved) => leadOn("micrometer", () => show(saved.id), saved.id)}
            onCancel={() => show(null)}
          />
        </Panel>
      ) : null}
      {micrometer && location.form === "certificate" ? (
        <Panel title={`New certificate for ${micrometer.name}, serial ${micrometer.serial}`}>
          <CertificateForm
            micrometer={micrometer}
            onSaved={(saved) => void beginCalibration(saved, () => show(micrometer.id))}
            onCancel={() => show(micrometer.id)}
          />
        </Panel>
      ) : null}
      {micrometer && location.form === "labels" ? (
        <LabelSheet micrometers={micrometers.data ?? []} onBack={() => show(micrometer.id)} />
      ) : null}
      {micrometer && location.form === null ? (
        <MicrometerDetail
          key={micrometer.id}
          micrometer={micrometer}
          onCertificate={() => show(micrometer.id, "certificate")}
          onLabels={() => show(micrometer.id, "labels")}
        />
      ) : null}
    </RegisterFrame>
  );
}
