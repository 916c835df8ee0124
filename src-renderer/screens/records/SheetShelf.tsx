import { useState } from "react";
import type { CallOutput } from "#core/contract/calls.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { ExportNotice } from "../../parts/bench-words/ExportNotice.tsx";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { SheetStateWords } from "./SheetStateWords.tsx";
import styles from "./Shelf.module.css";

type ExportState =
  | { readonly at: "idle" }
  | { readonly at: "writing"; readonly sheetId: string }
  | { readonly at: "done"; readonly file: CallOutput<"exports.workbook"> }
  | { readonly at: "refused"; readonly error: CallError };

/** The sheets of the bench, newest first, with their workbooks. */
export function SheetShelf() {
  const client = useClient();
  const navigation = useNavigation();
  const nameOf = usePersonName();
  const sheets = useCall("sheets.list", {});
  const states = useCall("sheets.states", {});
  const [state, setState] = useState<ExportState>({ at: "idle" });

  const write = async (sheetId: string, kind: "live" | "values"): Promise<void> => {
    setState({ at: "writing", sheetId });
    const reply = await client("exports.workbook", { sheetId, kind });
    setState(reply.ok ? { at: "done", file: reply.value } : { at: "refused", error: reply.error });
  };

  const columns: readonly Column<Sheet>[] = [
    { key: "number", title: "Sheet", names: true, unbroken: true, cell: (one) => one.number },
    { key: "sample", title: "Sample", cell: (one) => one.sample },
    { key: "opened", title: "Opened", unbroken: true, cell: (one) => shownInstant(one.openedAt) },
    { key: "who", title: "By", cell: (one) => nameOf(one.openedBy) },
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
      title: "Open, or write a workbook",
      cell: (one) => (
        <span className={styles.acts}>
          <Button
            look="quiet"
            aria-label={`Record of ${one.number}`}
            onClick={() => navigation.go({ screen: "records", shelf: "sheets", recordId: one.id })}
          >
            Record
          </Button>
          <Button
            look="quiet"
            aria-label={`Open ${one.number}`}
            onClick={() => navigation.go({ screen: "measure", sheetId: one.id })}
          >
            Open
          </Button>
          <Button
            look="quiet"
            aria-label={`Report of ${one.number}`}
            onClick={() => navigation.go({ screen: "records", shelf: "report", recordId: one.id })}
          >
            Report
          </Button>
          <Button
            look="quiet"
            aria-label={`Workbook of ${one.number} with formulas`}
            disabled={state.at === "writing"}
            onClick={() => void write(one.id, "live")}
          >
            Formulas
          </Button>
          <Button
            look="quiet"
            aria-label={`Workbook of ${one.number}, values only`}
            disabled={state.at === "writing"}
            onClick={() => void write(one.id, "values")}
          >
            Values
          </Button>
        </span>
      ),
    },
  ];
  return (
    <>
      {state.at === "writing" ? <Notice live>Writing the workbook …</Notice> : null}
      {state.at === "done" ? <ExportNotice file={state.file} /> : null}
      {state.at === "refused" ? (
        <Notice kind="fault" live title={state.error.message} hint={state.error.hint} />
      ) : null}
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
    </>
  );
}
