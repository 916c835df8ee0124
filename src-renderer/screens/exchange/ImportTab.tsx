import { useState } from "react";
import type { ImportTable } from "#core/contract/records/exchange.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import type { CallError } from "#core/contract/reply.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { sendFile } from "../../bridge/send-file.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import styles from "./Exchange.module.css";
import { FilePicker } from "./FilePicker.tsx";
import { ImportMatching } from "./ImportMatching.tsx";
import { ReadInPanel } from "./ReadInPanel.tsx";

type State =
  | { readonly at: "idle" }
  | { readonly at: "reading"; readonly name: string }
  | { readonly at: "read"; readonly uploadId: string; readonly table: ImportTable }
  | { readonly at: "stored"; readonly sheet: Sheet }
  | { readonly at: "refused"; readonly error: CallError };

/** Earlier readings from a notebook or spreadsheet: chosen, matched, previewed, and only then stored. */
export function ImportTab() {
  const client = useClient();
  const navigation = useNavigation();
  const methods = useCall("methods.list", {});
  const [methodId, setMethodId] = useState("");
  const [state, setState] = useState<State>({ at: "idle" });
  const chosen = methods.data?.find((one) => one.id === methodId) ?? methods.data?.[0];

  const look = async (method: Method, uploadId: string, worksheet: string | null): Promise<void> => {
    const reply = await client("imports.read", { uploadId, worksheet, methodId: method.id });
    setState(reply.ok ? { at: "read", uploadId, table: reply.value } : { at: "refused", error: reply.error });
  };
  const take = async (method: Method, file: File): Promise<void> => {
    setState({ at: "reading", name: file.name });
    const sent = await sendFile(client, file, () => undefined);
    if (sent.ok) await look(method, sent.value.uploadId, null);
    else setState({ at: "refused", error: sent.error });
  };
  return (
    <>
      <Panel
        title="Import earlier readings"
        lead="Divisions from a notebook become a sheet with sizes and uncertainty; nothing is stored unasked."
      >
        <div className={styles.stack}>
          <CallNotice calls={[methods]} waiting="Reading the methods …" />
          {methods.data?.length === 0 ? (
            <Notice title="No method is defined yet: define one in Registers, then take readings in." />
          ) : null}
          <SelectField
            id="import-method"
            label="Method"
            value={chosen?.id ?? ""}
            disabled={!chosen}
            onChange={(id) => {
              setMethodId(id);
              setState({ at: "idle" });
            }}
            choices={(methods.data ?? []).map((one) => ({
              value: one.id,
              words: `${one.definition.name}, version ${one.version}`,
            }))}
          />
          {chosen ? (
            <FilePicker
              label="Choose a CSV, TSV or xlsx file, or drop it here"
              accept=".csv,.tsv,.txt,.xlsx"
              disabled={state.at === "reading"}
              onFile={(file) => void take(chosen, file)}
            />
          ) : null}
          {state.at === "reading" ? <Notice live title={`Reading ${state.name} …`} /> : null}
          {state.at === "refused" ? <RefusalNotice error={state.error} /> : null}
          {state.at === "stored" ? (
            <Notice
              kind="done"
              live
              title={`${state.sheet.number} was opened with ${countedNoun(state.sheet.rowCount, "row")}.`}
            >
              <Button onClick={() => navigation.go({ screen: "measure", sheetId: state.sheet.id })}>
                Open {state.sheet.number}
              </Button>
            </Notice>
          ) : null}
        </div>
      </Panel>
      {state.at === "read" && chosen ? (
        <ImportMatching
          key={`${state.uploadId} ${state.table.worksheet ?? ""}`}
          uploadId={state.uploadId}
          table={state.table}
          method={chosen}
          onWorksheet={(worksheet) => void look(chosen, state.uploadId, worksheet)}
          onStored={(sheet) => setState({ at: "stored", sheet })}
        />
      ) : null}
      {state.at === "read" ? null : <ReadInPanel />}
    </>
  );
}
