import type { Method } from "#core/contract/records/method.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownDay } from "../../parts/bench-words/instant.ts";
import { sampleWords } from "../../parts/bench-words/sample-words.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { useRoving } from "../../parts/layout/use-roving.ts";
import { useNavigation } from "../../window/navigation-context.tsx";

/** As many as are shown; the others follow as these are closed. */
const SHOWN = 12;

/** Every sheet that is not closed, the one opened first on top; nothing while there are fewer than two. */
export function WorkList() {
  const navigation = useNavigation();
  const found = useCall("sheets.search", {
    words: "",
    personId: null,
    familyId: null,
    objectiveId: null,
    since: null,
    until: null,
    state: "open",
    sort: "number",
    descending: false,
    skip: 0,
    count: SHOWN,
  });
  const methods = useCall("methods.list", {});
  const sheets = found.data?.sheets ?? [];
  const roving = useRoving(sheets.length);
  if (!found.data) return <CallNotice calls={[found]} waiting="Reading the open sheets …" />;
  const { total } = found.data;
  if (total < 2) return null;
  const begun = sheets.filter(({ rowCount }) => rowCount > 0).length;
  const columns: readonly Column<Sheet>[] = [
    { key: "number", title: "Sheet", names: true, unbroken: true, cell: ({ number }) => number },
    { key: "sample", title: "Sample", words: true, cell: sampleWords },
    { key: "method", title: "Method", words: true, cell: (one) => methodName(methods.data, one) },
    { key: "opened", title: "Opened", unbroken: true, cell: ({ openedAt }) => shownDay(openedAt) },
    { key: "rows", title: "Rows", number: true, cell: ({ rowCount }) => rowCount },
    {
      key: "acts",
      title: <span data-screen-only>Act</span>,
      cell: (one) => (
        <Button
          look="quiet"
          {...roving(sheets.indexOf(one))}
          aria-label={`Measure ${one.number}, ${one.sample}`}
          onClick={() => navigation.go({ screen: "measure", sheetId: one.id })}
        >
          Measure
        </Button>
      ),
    },
  ];
  return (
    <Panel
      title="Worklist"
      lead={`${countedNoun(total, "sheet")} not closed, ${begun} of the ${sheets.length} shown begun; ↑ and ↓ step through them.`}
    >
      <DataTable
        caption="Sheets that are not closed"
        captionHidden
        columns={columns}
        rows={sheets}
        rowKey={({ id }) => id}
        empty="Every sheet is closed."
      />
    </Panel>
  );
}

function methodName(methods: readonly Method[] | undefined, { methodId }: Sheet): string {
  if (!methods) return "";
  return methods.find(({ id }) => id === methodId)?.definition.name ?? "a version before the newest";
}
