import type { CalibrationRecord, CalibrationState } from "#core/contract/records/calibration.ts";
import { useNavigation } from "../../app/navigation-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/DataTable.tsx";
import { shownInstant } from "../../parts/instant.ts";
import { Panel } from "../../parts/Panel.tsx";
import { type MarkState, StateMark } from "../../parts/StateMark.tsx";
import { useTrainName } from "../../parts/use-train-name.ts";
import { CalibrationDetail } from "./CalibrationDetail.tsx";
import type { RecordsLocation } from "./records-location.ts";
import styles from "./Shelf.module.css";

const MARKS: Readonly<Record<CalibrationState, MarkState>> = {
  draft: "none",
  "in force": "good",
  superseded: "none",
  withdrawn: "bad",
};

/** Every calibration, newest first; one of them in full. */
export function CalibrationShelf({ location }: { location: RecordsLocation }) {
  const navigation = useNavigation();
  const trainName = useTrainName();
  const calibrations = useCall("calibrations.list", { trainId: null });
  const shown = calibrations.data?.find((one) => one.id === location.recordId);
  const show = (recordId: string | null) =>
    navigation.go({ screen: "records", shelf: "calibrations", recordId });

  if (shown) return <CalibrationDetail calibration={shown} onBack={() => show(null)} />;

  const columns: readonly Column<CalibrationRecord>[] = [
    { key: "train", title: "Train", names: true, cell: (one) => trainName(one.trainId) },
    {
      key: "state",
      title: "State",
      cell: (one) => (
        <span className={styles.state}>
          <StateMark state={MARKS[one.state]} />
          {one.state}
        </span>
      ),
    },
    {
      key: "factor",
      title: "Factor ± U, µm/div",
      number: true,
      cell: (one) => (one.result ? `${one.result.shownFactor} ± ${one.result.shownUncertainty}` : "–"),
    },
    {
      key: "when",
      title: "In force since",
      unbroken: true,
      cell: (one) => (one.inForceAt ? shownInstant(one.inForceAt).slice(0, 10) : "–"),
    },
    { key: "due", title: "Due", unbroken: true, cell: (one) => one.dueOn ?? "–" },
    {
      key: "acts",
      title: "Look",
      cell: (one) => (
        <Button
          look="quiet"
          aria-label={`${one.state === "draft" ? "Go on with the draft" : "Show the calibration"} of ${trainName(one.trainId)}, begun ${shownInstant(one.startedAt)}`}
          onClick={() =>
            one.state === "draft"
              ? navigation.go({ screen: "calibrate", trainId: one.trainId, calibrationId: one.id })
              : show(one.id)
          }
        >
          {one.state === "draft" ? "Go on" : "Show"}
        </Button>
      ),
    },
  ];
  return (
    <Panel title="Calibrations">
      <CallNotice calls={[calibrations]} waiting="Reading the calibrations …" />
      {calibrations.data ? (
        <DataTable
          caption="Calibrations, newest first"
          captionHidden
          columns={columns}
          rows={calibrations.data}
          rowKey={(one) => one.id}
          empty="Nothing has been calibrated yet."
        />
      ) : null}
    </Panel>
  );
}
