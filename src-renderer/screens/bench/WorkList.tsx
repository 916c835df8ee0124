import type { CountHead } from "#core/contract/records/count.ts";
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
import type { Location } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";

/** As many of either are shown; the others follow as these are closed. */
const SHOWN = 12;

const NOT_CLOSED = {
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
} as const;

/** A sheet or a count that waits to be gone on with. */
interface Work {
  readonly id: string;
  readonly number: string;
  readonly sample: string;
  readonly method: string;
  readonly openedAt: string;
  readonly isBegun: boolean;
  readonly soFar: string;
  readonly act: "Measure" | "Count";
  readonly go: Location;
}

/** Every sheet and count that is not closed, the one opened first on top; nothing while there are fewer than two. */
export function WorkList() {
  const navigation = useNavigation();
  const sheets = useCall("sheets.search", NOT_CLOSED);
  const counts = useCall("counts.search", NOT_CLOSED);
  const methods = useCall("methods.list", {});
  const countMethods = useCall("countMethods.list", {});
  const work = [
    ...(sheets.data?.sheets ?? []).map((one) => workOfSheet(one, nameOf(methods.data, one.methodId))),
    ...(counts.data?.counts ?? []).map((one) =>
      workOfCount(one, nameOf(countMethods.data, one.countMethodId)),
    ),
  ];
  const roving = useRoving(work.length);
  if (!sheets.data || !counts.data) {
    return <CallNotice calls={[sheets, counts]} waiting="Reading what is open …" />;
  }
  const totals = [countedNoun(sheets.data.total, "sheet"), countedNoun(counts.data.total, "count")];
  const named = totals.filter((_, at) => [sheets.data?.total, counts.data?.total][at] !== 0);
  if (sheets.data.total + counts.data.total < 2) return null;
  const begun = work.filter(({ isBegun }) => isBegun).length;
  const columns: readonly Column<Work>[] = [
    { key: "number", title: "Number", names: true, unbroken: true, cell: ({ number }) => number },
    { key: "sample", title: "Sample", words: true, cell: ({ sample }) => sample },
    { key: "method", title: "Method", words: true, cell: ({ method }) => method },
    { key: "opened", title: "Opened", unbroken: true, cell: ({ openedAt }) => shownDay(openedAt) },
    { key: "so far", title: "So far", unbroken: true, cell: ({ soFar }) => soFar },
    {
      key: "acts",
      title: <span data-screen-only>Act</span>,
      cell: (one) => (
        <Button
          look="quiet"
          {...roving(work.indexOf(one))}
          aria-label={`${one.act} ${one.number}, ${one.sample}`}
          onClick={() => navigation.go(one.go)}
        >
          {one.act}
        </Button>
      ),
    },
  ];
  return (
    <Panel
      title="Worklist"
      lead={`${named.join(" and ")} not closed, ${begun} of the ${work.length} shown begun; ↑ and ↓ step through them.`}
    >
      <DataTable
        caption="Sheets and counts that are not closed"
        captionHidden
        columns={columns}
        rows={work}
        rowKey={({ id }) => id}
        empty="Everything is closed."
      />
    </Panel>
  );
}

function workOfSheet(sheet: Sheet, method: string): Work {
  const { id, number, openedAt, rowCount } = sheet;
  return {
    ...{ id, number, method, openedAt, sample: sampleWords(sheet) },
    isBegun: rowCount > 0,
    soFar: rowCount > 0 ? countedNoun(rowCount, "row") : "not begun",
    act: "Measure",
    go: { screen: "measure", sheetId: id },
  };
}

function workOfCount(count: CountHead, method: string): Work {
  const { id, number, openedAt, currentField, lastSequence, secondsBefore, state } = count;
  const isBegun = state === "counting" || lastSequence > 0 || secondsBefore > 0;
  return {
    ...{ id, number, method, openedAt, sample: sampleWords(count), isBegun },
    soFar: isBegun ? `field ${currentField}` : "not begun",
    act: "Count",
    go: { screen: "count", part: "counts", recordId: id },
  };
}

type Named = { readonly id: string; readonly definition: { readonly name: string } };

function nameOf(methods: readonly Named[] | undefined, methodId: string): string {
  if (!methods) return "";
  return methods.find(({ id }) => id === methodId)?.definition.name ?? "a version before the newest";
}
