import type { StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { PrintButton } from "../../../parts/layout/PrintButton.tsx";
import styles from "./Labels.module.css";

/** Labels to cut out, one per stage micrometer: what it is, its certificate in use, when it is due. */
export function LabelSheet({
  micrometers,
  onBack,
}: {
  micrometers: readonly StageMicrometer[];
  onBack: () => void;
}) {
  const replacements = useCall("certificates.replacements", {});
  const states = useCall("registers.serviceStates", {});
  const replaced = new Set(replacements.data?.map((one) => one.certificateId));
  return (
    <Panel
      title="Labels"
      lead="One per stage micrometer, to cut out."
      actions={
        <>
          <Button onClick={onBack}>Back to the record</Button>
          <PrintButton />
        </>
      }
    >
      <ul className={styles.labels}>
        {micrometers.map((micrometer) => {
          const certificate = [...micrometer.certificates]
            .filter((one) => !replaced.has(one.id))
            .sort((a, b) => b.calibratedOn.localeCompare(a.calibratedOn))[0];
          const state = states.data?.find((one) => one.item.id === micrometer.id);
          return (
            <li key={micrometer.id} className={styles.label}>
              <p className={styles.name}>{micrometer.name}</p>
              <p>
                Serial {micrometer.serial} · {micrometer.scaleLengthUm} µm in {micrometer.divisions}
              </p>
              {certificate ? (
                <>
                  <p>
                    Certificate {certificate.number}, {certificate.laboratory}
                  </p>
                  <p>
                    U {certificate.expandedUncertainty} µm, k = {certificate.coverageFactor}, at{" "}
                    {certificate.temperature} °C
                  </p>
                  <p className={styles.due}>
                    Calibrated {certificate.calibratedOn} · due {certificate.dueOn}
                  </p>
                </>
              ) : (
                <p className={styles.due}>No certificate in use: not for calibration</p>
              )}
              {state?.state === "out of service" ? (
                <p className={styles.due}>OUT OF SERVICE since {state.from}</p>
              ) : null}
            </li>
          );
        })}
      </ul>
    </Panel>
  );
}
