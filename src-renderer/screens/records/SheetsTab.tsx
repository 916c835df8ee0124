import { useState } from "react";
import type { ExportFormat } from "#core/contract/records/exchange.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import { SHEET_STATES } from "#core/contract/records/sign-off.ts";
import { useCall } from "../../bridge/use-call.ts";
import { shownDay } from "../../parts/bench-words/instant.ts";
import { sampleWords } from "../../parts/bench-words/sample-words.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { FoundPage, type ListColumn, type RowAct } from "../../parts/list/FoundPage.tsx";
import { searchOf, useListPlace } from "../../parts/list/list-place.ts";
import { useLastAnswer } from "../../parts/list/use-last-answer.ts";
import { useListFilters } from "../../parts/list/use-list-filters.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { ownSettings } from "../../window/own-settings.ts";
import { ExportOutcome } from "../exchange/ExportOutcome.tsx";
import { useExport } from "../exchange/use-export.ts";
import styles from "./RecordsTab.module.css";
import { SheetStateWords } from "./SheetStateWords.tsx";

const STATE_FILTER = {
  key: "state",
  label: "State",
  choices: SHEET_STATES.map((state) => ({ value: state, words: state })),
};

/** The sheets of the bench, newest first, with their workbooks. */
export function SheetsTab() {
  const navigation = useNavigation();
  const nameOf = usePersonName();
  const at = useListPlace("sheets");
  const methods = useCall("methods.list", {});
  const filters = useListFilters(methods.data ?? []);
  const state = SHEET_STATES.find((one) => one === at.place.filters.state) ?? null;
  const sheets = useCall("sheets.search", { ...searchOf(at.place), state });
  const found = useLastAnswer(sheets.data);
  const exporting = useExport();
  const [exported, setExported] = useState("");

  const write = async (sheetId: string, format: ExportFormat): Promise<void> => {
    setExported(sheetId);
    await exporting.begin((client) =>
      client("exports.begin", { sheetIds: [sheetId], format, paper: ownSettings().paper }),
    );
  };

  const columns: readonly ListColumn<Sheet>[] = [
    { key: "number", title: "Sheet", sort: "number", names: true, unbroken: true, cell: (one) => one.number },
    { key: "sample", title: "Sample", sort: "sample", words: true, cell: sampleWords },
    { key: "opened", title: "Opened", unbroken: true, cell: (one) => shownDay(one.openedAt) },
    { key: "who", title: "By", words: true, cell: (one) => nameOf(one.openedBy) },
    { key: "rows", title: "Rows", sort: "rows", number: true, cell: (one) => one.rowCount },
    {
      key: "state",
      title: "State",
      cell: (one) => <SheetStateWords state={found?.states.find(({ sheetId }) => sheetId === one.id)} />,
    },
  ];
  const acts: readonly RowAct<Sheet>[] = [
    {
      words: "Details",
      letter: "D",
      nameOf: ({ number }) => `Details of ${number}`,
      run: ({ id }) => navigation.go({ screen: "records", tab: "sheets", recordId: id }),
    },
    {
      words: "Measure",
      letter: "M",
      nameOf: ({ number }) => `Measure ${number}`,
      run: ({ id }) => navigation.go({ screen: "measure", sheetId: id }),
    },
    {
      words: "Report",
      letter: "R",
      nameOf: ({ number }) => `Report of ${number}`,
      run: ({ id }) => navigation.go({ screen: "records", tab: "report", recordId: id }),
    },
    {
      words: "Workbook",
      letter: "W",
      nameOf: ({ number }) => `Workbook of ${number} with formulas`,
      disabled: exporting.busy,
      run: ({ id }) => void write(id, "live workbook"),
    },
    {
      words: "Values only",
      letter: "V",
      nameOf: ({ number }) => `Workbook of ${number}, values only`,
      disabled: exporting.busy,
      run: ({ id }) => void write(id, "values workbook"),
    },
  ];
  return (
    <Panel
      title="Sheets"
      lead="A workbook with formulas can be recomputed by a reviewer; values only is for passing on."
    >
      <CallNotice calls={[sheets]} waiting="Reading the sheets …" />
      {found ? (
        <FoundPage
          at={at}
          caption="Sheets"
          asksFor="number, sample or customer"
          filters={[STATE_FILTER, ...filters]}
          columns={columns}
          acts={acts}
          total={found.total}
          rows={found.sheets}
          rowKey={(one) => one.id}
          empty="No sheet has been opened yet."
          below={(one) =>
            exported === one.id ? (
              <span className={styles.outcome}>
                <ExportOutcome view={exporting.view} cancel={exporting.cancel} />
              </span>
            ) : null
          }
        />
      ) : null}
    </Panel>
  );
}
