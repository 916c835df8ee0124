import { useState } from "react";
import type { CallOutput } from "#core/contract/calls.ts";
import type { ExportFormat } from "#core/contract/records/exchange.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { Panel } from "../../parts/Panel.tsx";
import { PrintButton } from "../../parts/PrintButton.tsx";
import { ExportNotice } from "../records/ExportNotice.tsx";
import records from "../records/Shelf.module.css";
import styles from "./CountShelf.module.css";

const FORMATS: readonly (readonly [format: ExportFormat, words: string])[] = [
  ["live workbook", "Workbook"],
  ["values workbook", "Values only"],
  ["csv", "CSV of fields"],
  ["json", "JSON with every press"],
];

type State =
  | { readonly at: "idle" }
  | { readonly at: "writing" }
  | { readonly at: "done"; readonly file: CallOutput<"tallies.export"> }
  | { readonly at: "refused"; readonly error: CallError };

/** A count on its way out: workbook with live formulas, a copy with values, a table, all records, or paper. */
export function ExportPanel({ tallyId }: { tallyId: string }) {
  const client = useClient();
  const [state, setState] = useState<State>({ at: "idle" });
  const write = async (format: ExportFormat): Promise<void> => {
    setState({ at: "writing" });
    const reply = await client("tallies.export", { tallyId, format, paper: "A4" });
    setState(reply.ok ? { at: "done", file: reply.value } : { at: "refused", error: reply.error });
  };
  return (
    <Panel title="Hand over" lead="Densities in the workbook are formulas: change a count and they follow.">
      <div className={styles.stack}>
        <span className={records.acts} data-screen-only>
          {FORMATS.map(([format, words]) => (
            <Button key={format} disabled={state.at === "writing"} onClick={() => void write(format)}>
              {words}
            </Button>
          ))}
          <PrintButton />
        </span>
        {state.at === "writing" ? <Notice live>Writing …</Notice> : null}
        {state.at === "done" ? <ExportNotice file={state.file} what="copy" /> : null}
        {state.at === "refused" ? (
          <Notice kind="fault" live title={state.error.message} hint={state.error.hint} />
        ) : null}
      </div>
    </Panel>
  );
}
