import type { CalibrationState, CalibrationSummary } from "#core/contract/records/calibration.ts";
import { CALIBRATION_STATES } from "#core/contract/records/calibration.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownDay, shownInstant } from "../../parts/bench-words/instant.ts";
import { useTrainName } from "../../parts/bench-words/use-train-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import type { Column } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { FoundPage } from "../../parts/list/FoundPage.tsx";
import { PAGE, spanOf, useListPlace } from "../../parts/list/list-place.ts";
import { useLastAnswer } from "../../parts/list/use-last-answer.ts";
import { usePersonFilter } from "../../parts/list/use-list-filters.ts";
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

/** Every calibration, newest first, a page at a time; one of them in full. */
export function CalibrationsTab({ location }: { location: RecordsLocation }) {
  const navigation = useNavigation();
  const show = (recordId: string | null) =>
    navigation.go({ screen: "records", tab: "calibrations", recordId });
  const { recordId } = location;
  if (recordId === null) return <CalibrationList onShow={show} />;
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

function CalibrationList({ onShow }: { onShow: (recordId: string) => void }) {
  const navigation = useNavigation();
  const trainName = useTrainName();
  const at = useListPlace("calibrations");
  const { words, filters, skip } = at.place;
  const state = CALIBRATION_STATES.find((one) => one === filters.state) ?? null;
  const shown = useCall("calibrations.summaries", {
    ...{ state, from: skip, count: PAGE },
    search: {
      ...{ words: words.trim(), personId: filters.person || null, trainId: filters.train || null },
      ...spanOf(at.place),
    },
  });
  const found = useLastAnswer(shown.data);
  const person = usePersonFilter();
  const overview = useCall("bench.overview", {});
  const trains = overview.data?.microscopes.flatMap((one) => one.trains.map(({ train }) => train.id)) ?? [];
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
  ];
  return (
    <Panel title="Calibrations">
      <CallNotice calls={[shown]} waiting="Reading the calibrations …" />
      {found ? (
        <FoundPage
          at={at}
          caption="Calibrations, newest first"
          asksFor="microscope, objective, micrometer, certificate or remark"
          filters={[
            {
              key: "state",
              label: "State",
              choices: CALIBRATION_STATES.map((value) => ({ value, words: value })),
            },
            {
              key: "train",
              label: "Train",
              choices: trains.map((value) => ({ value, words: trainName(value) })),
            },
            person,
          ]}
          columns={columns}
          acts={[
            {
              words: "Show",
              letter: "S",
              nameOf: (one) =>
                `Show the ${one.state === "draft" ? "draft" : "calibration"} of ${trainName(one.trainId)}, begun ${shownInstant(one.startedAt)}`,
              run: (one) =>
                one.state === "draft"
                  ? navigation.go({ screen: "calibrate", trainId: one.trainId, calibrationId: one.id })
                  : onShow(one.id),
            },
          ]}
          total={found.total}
          rows={found.calibrations}
          rowKey={(one) => one.id}
          empty="Nothing has been calibrated yet."
        />
      ) : null}
    </Panel>
  );
}
