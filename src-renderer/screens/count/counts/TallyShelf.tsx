import type { TallyHead } from "#core/contract/records/tally.ts";
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
      <div className={styles.choose}>
        <Panel title="Go on with a count" lead="The newest first.">
          <FoundRows
            caption="Counts"
            columns={columnsOf(open)}
            rows={tallies.data ?? []}
            rowKey={(tally) => tally.id}
            textOf={wordsOf}
            asksFor="number, sample or state"
            onFirst={(tally) => open(tally.id)}
            empty={tallies.data ? "Nothing has been counted on this bench yet." : "Fetching …"}
          />
        </Panel>
        {methods.data && lists.data && overview.data ? (
          <OpenCountForm
            methods={methods.data}
            lists={lists.data}
            microscopes={overview.data.microscopes.map((one) => one.microscope)}
            asksFirst={tallies.data?.length === 0}
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

const wordsOf = ({ number, sample, openedAt, state }: TallyHead): string =>
  `${number} ${sample} ${openedAt.slice(0, 10)} ${STATE_WORDS[state]}`;

function columnsOf(open: (tallyId: string) => void): readonly Column<TallyHead>[] {
  return [
    {
      key: "number",
      title: "Count",
      names: true,
      unbroken: true,
      cell: (tally) => (
        <Button
          look="quiet"
          aria-label={`${tally.state === "closed" ? "Look at" : "Go on with"} count ${tally.number}, ${tally.sample}`}
          onClick={() => open(tally.id)}
        >
          {tally.number}
        </Button>
      ),
    },
    { key: "sample", title: "Sample", words: true, cell: sampleWords },
    { key: "opened", title: "Opened", cell: (tally) => shownDay(tally.openedAt), unbroken: true },
    { key: "field", title: "Field", cell: (tally) => tally.currentField, number: true },
    { key: "state", title: "State", cell: (tally) => STATE_WORDS[tally.state], unbroken: true },
  ];
}
