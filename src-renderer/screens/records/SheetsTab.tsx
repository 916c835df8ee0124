import { useState } from "react";
import type { ExportFormat } from "#core/contract/records/exchange.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownDay } from "../../parts/bench-words/instant.ts";
import { sampleWords } from "../../parts/bench-words/sample-words.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { ExportOutcome } from "../exchange/ExportOutcome.tsx";
import { useExport } from "../exchange/use-export.ts";
import styles from "./RecordsTab.module.css";
import { SheetStateWords } from "./SheetStateWords.tsx";

/** The sheets of the bench, newest first, with their workbooks. */
export function SheetsTab() {
  const navigation = useNavigation();
  const nameOf = usePersonName();
  const sheets = useCall("sheets.list", {});
  const states = useCall("sheets.states", {});
  const exporting = useExport();
  const [exported, setExported] = useState("");

  const write = async (sheetId: string, format: ExportFormat): Promise<void> => {
    setExported(sheetId);
    await exporting.begin((client) => client("exports.begin", { sheetIds: [sheetId], format, paper: "A4" }));
  };

  const columns: readonly Column<Sheet>[] = [
    { key: "number", title: "Sheet", names: true, unbroken: true, cell: (one) => one.number },
    { key: "sample", title: "Sample", words: true, cell: sampleWords },
    { key: "opened", title: "Opened", unbroken: true, cell: (one) => shownDay(one.openedAt) },
    { key: "who", title: "By", words: true, cell: (one) => nameOf(one.openedBy) },
    {
      key: "rows",
      title: "Rows",
      number: true,
      cell: (one) => one.rowCount,
    },
    {
      key: "state",
      title: "State",
      cell: (one) => <SheetStateWords state={states.data?.find(({ sheetId }) => sheetId === one.id)} />,
    },
    {
      key: "acts",
      title: "Actions",
      cell: (one) => (
        <span className={styles.acts}>
          <Button
            look="quiet"
            aria-label={`Details of ${one.number}`}
            onClick={() => navigation.go({ screen: "records", tab: "sheets", recordId: one.id })}
          >
            Details
          </Button>
          <Button
            look="quiet"
            aria-label={`Measure ${one.number}`}
            onClick={() => navigation.go({ screen: "measure", sheetId: one.id })}
          >
            Measure
          </Button>
          <Button
            look="quiet"
            aria-label={`Report of ${one.number}`}
            onClick={() => navigation.go({ screen: "records", tab: "report", recordId: one.id })}
          >
            Report
          </Button>
          <Button
            look="quiet"
            aria-label={`Workbook of ${one.number} with formulas`}
            disabled={exporting.busy}
            onClick={() => void write(one.id, "live workbook")}
          >
            Workbook
          </Button>
          <Button
            look="quiet"
            aria-label={`Workbook of ${one.number}, values only`}
            disabled={exporting.busy}
            onClick={() => void write(one.id, "values workbook")}
          >
            Values only
          </Button>
          {exported === one.id ? (
            <span className={styles.outcome}>
              <ExportOutcome view={exporting.view} cancel={exporting.cancel} />
            </span>
          ) : null}
        </span>
      ),
    },
  ];
  return (
    <Panel
      title="Sheets"
      lead="A workbook with formulas can be recomputed by a reviewer; values only is for passing on."
    >
      <CallNotice calls={[sheets]} waiting="Reading the sheets …" />
      {sheets.data ? (
        <DataTable
          caption="Sheets, newest first"
          captionHidden
          columns={columns}
          rows={sheets.data}
          rowKey={(one) => one.id}
          empty="No sheet has been opened yet."
        />
      ) : null}
    </Panel>
  );
}
