import { useState } from "react";
import type { DocumentLook, ReadIn } from "#core/contract/records/read-in.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { newRequestId } from "../../bridge/request-id.ts";
import { sendFile } from "../../bridge/send-file.ts";
import { Button } from "../../parts/Button.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import styles from "./Exchange.module.css";
import { FilePicker } from "./FilePicker.tsx";
import { ReadInContents } from "./ReadInContents.tsx";

interface Seen {
  readonly look: DocumentLook;
  readonly uploadId: string;
  readonly requestId: string;
}

type State =
  | { readonly at: "idle" }
  | { readonly at: "busy"; readonly words: string }
  | { readonly at: "seen"; readonly seen: Seen; readonly error: CallError | null }
  | { readonly at: "stored"; readonly readIn: ReadIn }
  | { readonly at: "refused"; readonly error: CallError };

/** Sheets exported as JSON on another bench: looked at, and read whole into an empty one. */
export function ReadInPanel() {
  const client = useClient();
  const [state, setState] = useState<State>({ at: "idle" });
  const take = async (file: File): Promise<void> => {
    setState({ at: "busy", words: `Reading ${file.name} …` });
    const sent = await sendFile(client, file, () => undefined);
    if (!sent.ok) return setState({ at: "refused", error: sent.error });
    const { uploadId } = sent.value;
    setState({ at: "busy", words: `Checking every record of ${file.name} …` });
    const reply = await client("documents.look", { uploadId });
    if (!reply.ok) return setState({ at: "refused", error: reply.error });
    setState({ at: "seen", seen: { look: reply.value, uploadId, requestId: newRequestId() }, error: null });
  };
  const readIn = async (seen: Seen, personId: string | null): Promise<void> => {
    const { uploadId, requestId, look } = seen;
    setState({ at: "busy", words: `Reading in ${look.fileName} …` });
    const reply = await client("documents.readIn", { requestId, uploadId, personId });
    if (!reply.ok) return setState({ at: "seen", seen, error: reply.error });
    void client("uploads.forget", { uploadId });
    setState({ at: "stored", readIn: reply.value });
  };
  return (
    <Panel
      title="Import sheets from another bench"
      lead="A JSON file fills an empty bench: every record as it was, with its history; whole or not at all."
    >
      <div className={styles.stack}>
        <FilePicker
          label="Choose a JSON file of this program, or drop it here"
          accept=".json"
          disabled={state.at === "busy"}
          onFile={(file) => void take(file)}
        />
        {state.at === "busy" ? <Notice live title={state.words} /> : null}
        {state.at === "refused" ? <RefusalNotice error={state.error} /> : null}
        {state.at === "seen" ? (
          <ReadInContents
            look={state.seen.look}
            error={state.error}
            onReadIn={(personId) => void readIn(state.seen, personId)}
          />
        ) : null}
        {state.at === "stored" ? <Stored readIn={state.readIn} /> : null}
      </div>
    </Panel>
  );
}

function Stored({ readIn }: { readIn: ReadIn }) {
  const navigation = useNavigation();
  const { sheets, counts } = readIn;
  const title = `${sheets.length === 1 ? "One sheet" : `${sheets.length} sheets`} with ${counts.rows} rows read in.`;
  const go = (tab: "sheets" | "verify") => navigation.go({ screen: "records", tab, recordId: null });
  return (
    <Notice kind="done" live title={title}>
      <p>The audit trail tells of each record, of the file and of its fingerprint.</p>
      <div className={styles.acts}>
        <Button onClick={() => go("sheets")}>Show the sheets</Button>
        <Button onClick={() => go("verify")}>Verify this bench</Button>
      </div>
    </Notice>
  );
}
