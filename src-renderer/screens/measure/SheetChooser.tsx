import type { Sheet } from "#core/contract/records/sheet.ts";
import { SHEET_STATES } from "#core/contract/records/sign-off.ts";
import { useCall } from "../../bridge/use-call.ts";
import { shownDay } from "../../parts/bench-words/instant.ts";
import { sampleWords } from "../../parts/bench-words/sample-words.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import shapes from "../../parts/layout/Shapes.module.css";
import { FoundPage, type ListColumn } from "../../parts/list/FoundPage.tsx";
import { searchOf, useListPlace } from "../../parts/list/list-place.ts";
import { useLastAnswer } from "../../parts/list/use-last-answer.ts";
import { useListFilters } from "../../parts/list/use-list-filters.ts";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { Unbroken } from "../../parts/Unbroken.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { NewSheetForm } from "./NewSheetForm.tsx";

/** The sheets of the bench, and the form that opens a new one. */
export function SheetChooser() {
  const navigation = useNavigation();
  const at = useListPlace("sheets to measure");
  const state = SHEET_STATES.find((one) => one === at.place.filters.state) ?? null;
  const sheets = useCall("sheets.search", { ...searchOf(at.place), state });
  const found = useLastAnswer(sheets.data);
  const methods = useCall("methods.list", {});
  const overview = useCall("bench.overview", {});
  const filters = useListFilters(methods.data ?? []);
  const open = (sheetId: string): void => navigation.go({ screen: "measure", sheetId });
  const error = sheets.error ?? methods.error ?? overview.error;

  return (
    <ScreenFrame title="Measure" lead="A sheet holds the specimens of one sample, measured by one method.">
      {error ? <RefusalNotice error={error} /> : null}
      <div className={shapes.beside}>
        <Panel title="Continue a sheet" lead="The newest first.">
          {found ? (
            <FoundPage
              at={at}
              caption="Sheets"
              asksFor="number, sample or customer"
              filters={[STATE_FILTER, ...filters]}
              columns={COLUMNS}
              acts={[
                {
                  words: "Measure",
                  letter: "M",
                  nameOf: ({ number, sample }) => `Measure on sheet ${number}, ${sample}`,
                  run: ({ id }) => open(id),
                },
              ]}
              total={found.total}
              rows={found.sheets}
              rowKey={(sheet) => sheet.id}
              empty="No sheet has been opened on this bench yet."
            />
          ) : (
            <CallNotice calls={[sheets]} waiting="Fetching the sheets …" />
          )}
        </Panel>
        {methods.data && overview.data ? (
          <NewSheetForm
            methods={methods.data}
            microscopes={overview.data.microscopes.map((one) => one.microscope)}
            asksFirst={overview.data.counts.sheets === 0}
            onOpened={(sheet) => open(sheet.id)}
          />
        ) : null}
      </div>
    </ScreenFrame>
  );
}

const STATE_FILTER = {
  key: "state",
  label: "State",
  choices: SHEET_STATES.map((state) => ({ value: state, words: state })),
};

const COLUMNS: readonly ListColumn<Sheet>[] = [
  {
    key: "number",
    title: "Sheet",
    sort: "number",
    names: true,
    unbroken: true,
    cell: ({ number }) => number,
  },
  { key: "sample", title: "Sample", sort: "sample", words: true, cell: sampleWords },
  { key: "opened", title: "Opened", cell: (sheet) => <Unbroken text={shownDay(sheet.openedAt)} /> },
  { key: "rows", title: "Rows", sort: "rows", cell: (sheet) => sheet.rowCount, number: true },
];
