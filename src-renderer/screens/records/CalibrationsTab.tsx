import { useState } from "react";
import type { CalibrationState, CalibrationSummary } from "#core/contract/records/calibration.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownDay, shownInstant } from "../../parts/bench-words/instant.ts";
import { useTrainName } from "../../parts/bench-words/use-train-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { type MarkState, StateMark } from "../../parts/StateMark.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { CalibrationDetail } from "./CalibrationDetail.tsx";
import styles from "./RecordsTab.module.css";
import type { RecordsLocation } from "./records-location.ts";

const MARKS: Readonly<Record<CalibrationState, MarkState>> = {
  draft: "none",
  "in force": "good",
  superseded: "none",
  withdrawn: "bad",
};

const PAGE = 50;

/** Every calibration, newest first, a page at a time; one of them in full. */
export function CalibrationsTab({ location }: { location: RecordsLocation }) {
  const navigation = useNavigation();
  const show = (recordId: string | null) =>
    navigation.go({ screen: "records", tab: "calibrations", recordId });
  // Kept here, so that whoever looks at a calibration comes back to its page.
  const [page, setPage] = useState(0);
  const { recordId } = location;
  if (recordId === null) return <CalibrationList page={page} onPage={setPage} onShow={show} />;
  return <OneCalibration key={recordId} calibrationId={recordId} onBack={() => show(null)} />;
}

function OneCalibration({ calibrationId, onBack }: { calibrationId: string; onBack: () => void }) {
  const calibration = useCall("calibrations.get", { calibrationId });
  if (calibration.data) return <CalibrationDetail calibration={calibration.data} onBack={onBack} />;
  return (
    <Panel title="Calibration" actions={<Button onClick={onBack}>All calibrations</Button>}>
      <CallNotice calls={[calibration]} waiting="Reading the calibration …" />
    </Panel>
  );
}

interface CalibrationListProps {
  readonly page: number;
  readonly onPage: (page: number) => void;
  readonly onShow: (recordId: string) => void;
}

function CalibrationList({ page, onPage, onShow }: CalibrationListProps) {
  const navigation = useNavigation();
  const trainName = useTrainName();
  const shown = useCall("calibrations.summaries", { state: null, from: page * PAGE, count: PAGE });
  const total = shown.data?.total ?? 0;
  const columns: readonly Column<CalibrationSummary>[] = [
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
      cell: (one) => (one.shownFactor === null ? "–" : `${one.shownFactor} ± ${one.shownUncertainty}`),
    },
    {
      key: "when",
      title: "In force since",
      unbroken: true,
      cell: (one) => (one.inForceAt ? shownDay(one.inForceAt) : "–"),
    },
    { key: "due", title: "Due", unbroken: true, cell: (one) => one.dueOn ?? "–" },
    {
      key: "acts",
      title: "Look",
      unbroken: true,
      cell: (one) => (
        <Button
          look="quiet"
          aria-label={`${one.state === "draft" ? "Go on with the draft" : "Show the calibration"} of ${trainName(one.trainId)}, begun ${shownInstant(one.startedAt)}`}
          onClick={() =>
            one.state === "draft"
              ? navigation.go({ screen: "calibrate", trainId: one.trainId, calibrationId: one.id })
              : onShow(one.id)
          }
        >
          {one.state === "draft" ? "Go on" : "Show"}
        </Button>
      ),
    },
  ];
  return (
    <Panel title="Calibrations">
      <CallNotice calls={[shown]} waiting="Reading the calibrations …" />
      {shown.data ? (
        <DataTable
          caption="Calibrations, newest first"
          captionHidden
          columns={columns}
          rows={shown.data.calibrations}
          rowKey={(one) => one.id}
          empty="Nothing has been calibrated yet."
        />
      ) : null}
      {total > PAGE ? (
        <div className={styles.pages}>
          <Button disabled={page === 0} onClick={() => onPage(page - 1)}>
            Newer
          </Button>
          <span>
            {page + 1} of {Math.ceil(total / PAGE)}
          </span>
          <Button disabled={(page + 1) * PAGE >= total} onClick={() => onPage(page + 1)}>
            Older
          </Button>
        </div>
      ) : null}
    </Panel>
  );
}
