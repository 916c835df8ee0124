import type { CountHead } from "#core/contract/records/count.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { shownDay } from "../../../parts/bench-words/instant.ts";
import { sampleWords } from "../../../parts/bench-words/sample-words.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import shapes from "../../../parts/layout/Shapes.module.css";
import { FoundPage, type ListColumn } from "../../../parts/list/FoundPage.tsx";
import { searchOf, useListPlace } from "../../../parts/list/list-place.ts";
import { useLastAnswer } from "../../../parts/list/use-last-answer.ts";
import { useListFilters } from "../../../parts/list/use-list-filters.ts";
import { useNavigation } from "../../../window/navigation-context.tsx";
import { markRunningHere } from "../state/live-counts.ts";
import { OpenCountForm } from "./OpenCountForm.tsx";

const STATE_WORDS = { counting: "counting", paused: "paused", closed: "closed" } as const;

/** The counts of the bench, and the form that opens a new one. */
export function CountsTab() {
  const client = useClient();
  const navigation = useNavigation();
  const at = useListPlace("counts");
  const state = (["open", "closed"] as const).find((one) => one === at.place.filters.state) ?? null;
  const counts = useCall("counts.search", { ...searchOf(at.place), state });
  const found = useLastAnswer(counts.data);
  const methods = useCall("countMethods.list", {});
  const lists = useCall("categoryLists.list", {});
  const overview = useCall("bench.overview", {});
  const filters = useListFilters(methods.data ?? []);
  const open = (recordId: string): void => navigation.go({ screen: "count", part: "counts", recordId });
  return (
    <>
      <CallNotice calls={[counts, methods, lists, overview]} waiting="Fetching the counts …" />
      <div className={shapes.beside}>
        <Panel title="Continue a count" lead="The newest first.">
          {found ? (
            <FoundPage
              at={at}
              caption="Counts"
              asksFor="number, sample or customer"
              filters={[STATE_FILTER, ...filters]}
              columns={COLUMNS}
              acts={[
                {
                  words: "Open",
                  letter: "O",
                  nameOf: ({ number, sample, state }) =>
                    `${state === "closed" ? "Open" : "Continue"} count ${number}, ${sample}`,
                  run: ({ id }) => open(id),
                },
              ]}
              total={found.total}
              rows={found.counts}
              rowKey={(count) => count.id}
              empty="Nothing has been counted on this bench yet."
            />
          ) : null}
        </Panel>
        {methods.data && lists.data && overview.data ? (
          <OpenCountForm
            methods={methods.data}
            lists={lists.data}
            microscopes={overview.data.microscopes.map((one) => one.microscope)}
            asksFirst={found?.total === 0 && at.place.words === ""}
            onOpened={(count) => {
              if (count.state === "counting") markRunningHere(client, count.id);
              open(count.id);
            }}
          />
        ) : null}
      </div>
    </>
  );
}

const STATE_FILTER = {
  key: "state",
  label: "State",
  choices: [
    { value: "open", words: "open" },
    { value: "closed", words: "closed" },
  ],
};

const COLUMNS: readonly ListColumn<CountHead>[] = [
  {
    key: "number",
    title: "Count",
    sort: "number",
    names: true,
    unbroken: true,
    cell: ({ number }) => number,
  },
  { key: "sample", title: "Sample", sort: "sample", words: true, cell: sampleWords },
  { key: "opened", title: "Opened", cell: (count) => shownDay(count.openedAt), unbroken: true },
  { key: "field", title: "Field", sort: "rows", cell: (count) => count.currentField, number: true },
  { key: "state", title: "State", cell: (count) => STATE_WORDS[count.state], unbroken: true },
];
