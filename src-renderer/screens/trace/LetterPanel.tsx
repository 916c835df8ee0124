import { useState } from "react";
import type { CallReply } from "#core/contract/calls.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { CopyByHand } from "../../parts/clipboard/CopyByHand.tsx";
import { putOnClipboard } from "../../parts/clipboard/put-on-clipboard.ts";
import { Panel } from "../../parts/layout/Panel.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { shown } from "../../window/notation.ts";
import type { Scope } from "./forward-scope.ts";
import styles from "./Trace.module.css";

/** The affected sheets as a list ready for a letter: to copy, to save as a table, to print. */
export function LetterPanel({ scope }: { scope: Scope }) {
  const client = useClient();
  const [reply, setReply] = useState<CallReply<"trace.letter"> | null>(null);
  const [copied, setCopied] = useState<string | null>(null);
  const [byHand, setByHand] = useState<string | null>(null);
  const write = async (): Promise<void> => {
    setCopied(null);
    setByHand(null);
    setReply(await client("trace.letter", scope));
  };
  const copy = async (words: string, text: string): Promise<void> => {
    const done = await putOnClipboard(text);
    setCopied(done ? `${words} copied.` : null);
    setByHand(done ? null : text);
  };
  const letter = reply?.ok ? reply.value : null;
  return (
    <Panel
      title="List for a letter"
      actions={
        <Button onClick={() => void write()}>{letter ? "Write the list again" : "Write the list"}</Button>
      }
    >
      <div className={styles.stack}>
        {reply && !reply.ok ? <RefusalNotice error={reply.error} /> : null}
        {letter ? (
          <>
            <p className={styles.acts} data-screen-only>
              <Button onClick={() => void copy("The text", shown(letter.text))}>Copy the text</Button>
              <Button onClick={() => void copy("The table", letter.csv)}>Copy as a table (CSV)</Button>
              <span role="status">{copied}</span>
            </p>
            {byHand === null ? null : <CopyByHand text={byHand} />}
            <h3>{letter.title}</h3>
            <pre className={styles.letter}>{shown(letter.text)}</pre>
          </>
        ) : (
          <p>Names every sheet with sample, days, number of results and largest change, in plain text.</p>
        )}
      </div>
    </Panel>
  );
}
