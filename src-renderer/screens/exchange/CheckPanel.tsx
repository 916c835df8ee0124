import { useState } from "react";
import type { CellDifference, CheckReport } from "#core/contract/records/exchange.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { sendFile } from "../../bridge/send-file.ts";
import { useLongCall } from "../../bridge/use-long-call.ts";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { WorkUnderWay } from "../../parts/WorkUnderWay.tsx";
import styles from "./Exchange.module.css";
import { FilePicker } from "./FilePicker.tsx";

type State =
  | { readonly at: "idle" }
  | { readonly at: "sending"; readonly name: string; readonly share: number }
  | { readonly at: "checking"; readonly name: string }
  | { readonly at: "done"; readonly report: CheckReport }
  | { readonly at: "refused"; readonly error: CallError };

const COLUMNS: readonly Column<CellDifference>[] = [
  { key: "worksheet", title: "Worksheet", unbroken: true, cell: (one) => one.worksheet },
  { key: "cell", title: "Cell", names: true, unbroken: true, cell: (one) => one.cell },
  { key: "found", title: "In the file", cell: (one) => one.found },
  { key: "expected", title: "As the bench has it", cell: (one) => one.expected },
];

const KINDS = { unchanged: "done", changed: "care", "earlier layout": "care", "not ours": "fault" } as const;

/** Says whether a workbook that came back is still what was exported, and which cells differ if not. */
export function CheckPanel() {
  const client = useClient();
  const [state, setState] = useState<State>({ at: "idle" });
  const work = useLongCall();
  const check = async (file: File): Promise<void> => {
    setState({ at: "sending", name: file.name, share: 0 });
    const sent = await sendFile(client, file, (share) => setState({ at: "sending", name: file.name, share }));
    if (!sent.ok) return setState({ at: "refused", error: sent.error });
    const { uploadId } = sent.value;
    setState({ at: "checking", name: file.name });
    const reply = await work.run((requestId) => client("exchange.check", { uploadId, requestId }));
    void client("uploads.forget", { uploadId });
    setState(reply.ok ? { at: "done", report: reply.value } : { at: "refused", error: reply.error });
  };
  return (
    <Panel
      title="Check a file that came back"
      lead="The same export is made again from the bench and held against the file, cell by cell."
    >
      <div className={styles.stack}>
        <FilePicker
          label="Choose a workbook or a JSON file, or drop it here"
          accept=".xlsx,.json"
          disabled={state.at === "sending" || state.at === "checking"}
          onFile={(file) => void check(file)}
        />
        {state.at === "sending" ? (
          <Notice live title={`Reading ${state.name}, ${Math.floor(100 * state.share)} % …`} />
        ) : null}
        {state.at === "checking" ? <WorkUnderWay what={`Checking ${state.name}`} work={work} /> : null}
        {state.at === "refused" ? <RefusalNotice error={state.error} /> : null}
        {state.at === "done" ? <Checked report={state.report} /> : null}
      </div>
    </Panel>
  );
}

function Checked({ report }: { report: CheckReport }) {
  const same = report.printedSha256 === report.presentSha256;
  return (
    <>
      <Notice kind={KINDS[report.verdict]} live title={`${report.fileName}: ${report.verdict}`}>
        <p>{report.words}</p>
      </Notice>
      <Facts
        facts={[
          ["Sheets", report.sheets.join(", ")],
          ["Exported", report.exportedAt === null ? "" : shownInstant(report.exportedAt)],
          ["By", report.program ?? ""],
          ["Cells compared", String(report.cells)],
          ["All records, SHA-256 as printed", <Hash key="printed" text={report.printedSha256} />],
          [
            "The bench's data now",
            report.presentSha256 === null ? (
              ""
            ) : same ? (
              "the same"
            ) : (
              <Hash key="now" text={report.presentSha256} />
            ),
          ],
        ]}
      />
      {report.differing === 0 ? null : (
        <DataTable
          caption={
            report.differing > report.differences.length
              ? `The first ${report.differences.length} of ${report.differing} cells that differ`
              : "Cells that differ"
          }
          columns={COLUMNS}
          rows={report.differences}
          rowKey={(one) => `${one.worksheet}!${one.cell}`}
          empty=""
        />
      )}
    </>
  );
}

function Hash({ text }: { text: string | null }) {
  return <span className={styles.hash}>{text ?? ""}</span>;
}
