import { Button } from "../../parts/Button.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import styles from "./CalibrateScreen.module.css";
import type { CalibrationContext } from "./calibration-preview.ts";

/** What became of a calibration that is no draft any more, and where to go from here. */
export function InForceNotice({ context }: { context: CalibrationContext }) {
  const navigation = useNavigation();
  const { record } = context;
  const factor = record.result
    ? `${record.result.shownFactor} ± ${record.result.shownUncertainty} µm/div`
    : "no factor";
  return (
    <Notice
      kind={record.state === "in force" ? "done" : "note"}
      live
      title={
        record.state === "in force"
          ? `In force: ${factor}, due ${record.dueOn}.`
          : `This calibration is ${record.state}: ${factor}. ${record.endReason ?? ""}`
      }
    >
      <p className={styles.answers}>
        <Button look="main" autoFocus onClick={() => navigation.go({ screen: "measure", sheetId: null })}>
          Measure
        </Button>
        <Button onClick={() => navigation.go({ screen: "calibrate", trainId: null, calibrationId: null })}>
          Calibrate another train
        </Button>
        <Button onClick={() => navigation.go({ screen: "bench" })}>Bench</Button>
      </p>
    </Notice>
  );
}
