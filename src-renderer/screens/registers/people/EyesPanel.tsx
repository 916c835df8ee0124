import type { EyesAtTrain } from "#core/contract/records/eyes.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { shownDay } from "../../../parts/bench-words/instant.ts";
import { useTrainName } from "../../../parts/bench-words/use-train-name.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";

/** Dioptre, sleeve and glasses of a person at each train, as said when it was confirmed in Measure. */
export function EyesPanel({ personId }: { personId: string }) {
  const trainName = useTrainName();
  const said = useCall("sheets.eyesAtTrains", { personId });
  const columns: readonly Column<EyesAtTrain>[] = [
    { key: "train", title: "Train", names: true, words: true, cell: (one) => trainName(one.trainId) },
    { key: "dioptre", title: "Dioptre", number: true, cell: (one) => one.dioptre || "–" },
    { key: "sleeve", title: "Sleeve / mm", number: true, cell: (one) => one.sleeve || "–" },
    { key: "glasses", title: "Glasses", cell: (one) => one.glasses },
    { key: "since", title: "Since", unbroken: true, cell: (one) => shownDay(one.at) },
  ];
  return (
    <Panel title="Eyes at the trains" lead="Said when a train was confirmed in Measure.">
      <CallNotice calls={[said]} waiting="Reading what was confirmed …" />
      {said.data ? (
        <DataTable
          caption="Dioptre, sleeve and glasses by train"
          captionHidden
          columns={columns}
          rows={said.data}
          rowKey={(one) => one.trainId}
          empty="Nothing has been said yet."
        />
      ) : null}
    </Panel>
  );
}
