import type { Recount } from "#core/contract/records/recount.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { shownInstant } from "../../../parts/bench-words/instant.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import styles from "../CountTab.module.css";
import { RecountSheet } from "./RecountSheet.tsx";
import { SlidePlan } from "./SlidePlan.tsx";

/** Recounts of the bench: planned, at work, finished. */
export function RecountsTab({ recordId }: { recordId: string | null }) {
  const navigation = useNavigation();
  const recounts = useCall("recounts.list", { countId: null });
  const counts = useCall("counts.list", {});
  const closed = (counts.data ?? []).filter(({ state }) => state === "closed").map(({ id }) => id);
  const shown = recounts.data?.find((one) => one.id === recordId);
  return (
    <>
      <CallNotice calls={[recounts]} waiting="Fetching the recounts …" />
      <div className={styles.tab}>
        <Panel title="Recounts" lead="Of drawn fields: plan one at a closed count.">
          <DataTable
            caption="Recounts of this bench"
            captionHidden
            columns={columnsOf((id) => navigation.go({ screen: "count", part: "recounts", recordId: id }))}
            rows={recounts.data ?? []}
            rowKey={(recount) => recount.id}
            current={shown?.id ?? null}
            empty="No recount has been planned yet: open a closed count and draw its fields."
          />
        </Panel>
        <div className={styles.stack}>
          {shown ? <RecountSheet key={shown.id} recount={shown} /> : null}
          {closed.length > 0 ? <SlidePlan closedIds={closed} /> : null}
        </div>
      </div>
    </>
  );
}

function columnsOf(open: (id: string) => void): readonly Column<Recount>[] {
  return [
    { key: "count", title: "Count", cell: (one) => one.countNumber, names: true, unbroken: true },
    { key: "sample", title: "Sample", cell: (one) => one.sample },
    { key: "planned", title: "Planned", cell: (one) => shownInstant(one.plannedAt), unbroken: true },
    {
      key: "state",
      title: "State",
      cell: (one) =>
        one.finishedAt
          ? "finished"
          : `${one.entries.length} of ${one.kind === "slide" ? "as many fields as you count" : one.fields.length} entered`,
    },
    {
      key: "open",
      title: <span className={styles.hidden}>Open</span>,
      cell: (one) => (
        <Button
          look="quiet"
          aria-label={`${one.finishedAt ? "Look at" : "Count"} the recount of ${one.countNumber}, ${one.sample}`}
          onClick={() => open(one.id)}
        >
          {one.finishedAt ? "Look at" : "Count"}
        </Button>
      ),
    },
  ];
}
