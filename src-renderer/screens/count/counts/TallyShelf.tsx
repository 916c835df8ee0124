import type { TallyHead } from "#core/contract/records/tally.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { shownInstant } from "../../../parts/bench-words/instant.ts";
import { sampleWords } from "../../../parts/bench-words/sample-words.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import styles from "../CountShelf.module.css";
import { markRunningHere } from "../state/live-tallies.ts";
import { OpenCountForm } from "./OpenCountForm.tsx";

const STATE_WORDS = { counting: "left running", paused: "paused", closed: "closed" } as const;

/** The counts of the bench, and the form that opens a new one. */
export function TallyShelf() {
  const client = useClient();
  const navigation = useNavigation();
  const tallies = useCall("tallies.list", {});
  const methods = useCall("countMethods.list", {});
  const lists = useCall("categoryLists.list", {});
  const overview = useCall("bench.overview", {});
  const open = (recordId: string): void => navigation.go({ screen: "count", part: "counts", recordId });
  return (
    <>
      <CallNotice calls={[tallies, methods, lists, overview]} waiting="Fetching the counts …" />
      <div className={styles.shelf}>
        <Panel title="Go on with a count" lead="The newest first.">
          <DataTable
            caption="Counts"
            captionHidden
            columns={columnsOf(open)}
            rows={tallies.data ?? []}
            rowKey={(tally) => tally.id}
            empty={tallies.data ? "Nothing has been counted on this bench yet." : "Fetching …"}
          />
        </Panel>
        {methods.data && lists.data && overview.data ? (
          <OpenCountForm
            methods={methods.data}
            lists={lists.data}
            microscopes={overview.data.microscopes.map((one) => one.microscope)}
            onOpened={(tally) => {
              markRunningHere(client, tally.id);
              open(tally.id);
            }}
          />
        ) : null}
      </div>
    </>
  );
}

function columnsOf(open: (tallyId: string) => void): readonly Column<TallyHead>[] {
  return [
    { key: "number", title: "Count", cell: (tally) => tally.number, names: true, unbroken: true },
    { key: "sample", title: "Sample", cell: sampleWords },
    { key: "opened", title: "Opened", cell: (tally) => shownInstant(tally.openedAt), unbroken: true },
    { key: "field", title: "Field", cell: (tally) => tally.currentField, number: true },
    { key: "state", title: "State", cell: (tally) => STATE_WORDS[tally.state], unbroken: true },
    {
      key: "open",
      title: <span className={styles.hidden}>Open</span>,
      cell: (tally) => {
        const verb = tally.state === "closed" ? "Look at" : "Go on with";
        return (
          <Button
            look="quiet"
            aria-label={`${verb} count ${tally.number}, ${tally.sample}`}
            onClick={() => open(tally.id)}
          >
            {tally.state === "closed" ? "Look at" : "Go on"}
          </Button>
        );
      },
    },
  ];
}
