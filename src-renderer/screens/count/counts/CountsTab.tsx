import type { CountHead } from "#core/contract/records/count.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { shownDay } from "../../../parts/bench-words/instant.ts";
import { sampleWords } from "../../../parts/bench-words/sample-words.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import type { Column } from "../../../parts/layout/DataTable.tsx";
import { FoundRows } from "../../../parts/layout/FoundRows.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import styles from "../CountTab.module.css";
import { markRunningHere } from "../state/live-counts.ts";
import { OpenCountForm } from "./OpenCountForm.tsx";

const STATE_WORDS = { counting: "left running", paused: "paused", closed: "closed" } as const;

/** The counts of the bench, and the form that opens a new one. */
export function CountsTab() {
  const client = useClient();
  const navigation = useNavigation();
  const counts = useCall("counts.list", {});
  const methods = useCall("countMethods.list", {});
  const lists = useCall("categoryLists.list", {});
  const overview = useCall("bench.overview", {});
  const open = (recordId: string): void => navigation.go({ screen: "count", part: "counts", recordId });
  return (
    <>
      <CallNotice calls={[counts, methods, lists, overview]} waiting="Fetching the counts …" />
      <div className={styles.choose}>
        <Panel title="Go on with a count" lead="The newest first.">
          <FoundRows
            caption="Counts"
            columns={columnsOf(open)}
            rows={counts.data ?? []}
            rowKey={(count) => count.id}
            textOf={wordsOf}
            asksFor="number, sample or state"
            onFirst={(count) => open(count.id)}
            empty={counts.data ? "Nothing has been counted on this bench yet." : "Fetching …"}
          />
        </Panel>
        {methods.data && lists.data && overview.data ? (
          <OpenCountForm
            methods={methods.data}
            lists={lists.data}
            microscopes={overview.data.microscopes.map((one) => one.microscope)}
            asksFirst={counts.data?.length === 0}
            onOpened={(count) => {
              markRunningHere(client, count.id);
              open(count.id);
            }}
          />
        ) : null}
      </div>
    </>
  );
}

const wordsOf = ({ number, sample, openedAt, state }: CountHead): string =>
  `${number} ${sample} ${openedAt.slice(0, 10)} ${STATE_WORDS[state]}`;

function columnsOf(open: (countId: string) => void): readonly Column<CountHead>[] {
  return [
    {
      key: "number",
      title: "Count",
      names: true,
      unbroken: true,
      cell: (count) => (
        <Button
          look="quiet"
          aria-label={`${count.state === "closed" ? "Look at" : "Go on with"} count ${count.number}, ${count.sample}`}
          onClick={() => open(count.id)}
        >
          {count.number}
        </Button>
      ),
    },
    { key: "sample", title: "Sample", words: true, cell: sampleWords },
    { key: "opened", title: "Opened", cell: (count) => shownDay(count.openedAt), unbroken: true },
    { key: "field", title: "Field", cell: (count) => count.currentField, number: true },
    { key: "state", title: "State", cell: (count) => STATE_WORDS[count.state], unbroken: true },
  ];
}
