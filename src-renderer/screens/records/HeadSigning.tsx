import { useState } from "react";
import type { CallReply } from "#core/contract/calls.ts";
import type { Keychain, TrailSigning } from "#core/contract/records/trail-signature.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { newRequestId } from "../../bridge/request-id.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import styles from "./RecordsTab.module.css";

const WITHOUT: Readonly<Record<Exclude<Keychain, "available">, string>> = {
  browser:
    "Opened in a browser window the program reaches no keychain, so heads are not signed here. The desktop window of Linefall can sign them.",
  none: "There is no keychain here, or it is locked: heads are not signed.",
  "not secret":
    "This desktop has no password store that Linefall knows. What it offers instead locks nothing, for its key is known to everybody: heads are not signed.",
};

/** Heads signed with a key of the operating system's keychain, by choice; what that proves and what not. */
export function HeadSigning() {
  const client = useClient();
  const signing = useCall("trail.signing", {});
  const [reply, setReply] = useState<CallReply<"trail.changeSigning"> | null>(null);
  if (!signing.data) return <CallNotice calls={[signing]} waiting="Asking for the keychain …" />;
  const { keychain, key, isHere } = signing.data;
  const change = async (on: boolean): Promise<void> =>
    setReply(await client("trail.changeSigning", { requestId: newRequestId(), on }));
  return (
    <div className={styles.signing}>
      <p>{stateInWords(signing.data)}</p>
      {keychain === "available" ? (
        <p>
          A signature proves that this account on this computer has written the head: who has only the bench,
          or a copy of it, cannot make one. It proves nothing against whoever uses this account, nor when it
          was made, nor that what was entered is true. Note the key elsewhere: who writes a bench anew can
          name another.
        </p>
      ) : null}
      {keychain === "available" || key ? (
        <div className={styles.pages}>
          {keychain === "available" && !isHere ? (
            <Button onClick={() => void change(true)}>Sign heads with this computer’s keychain</Button>
          ) : null}
          {key ? <Button onClick={() => void change(false)}>Sign no more heads</Button> : null}
        </div>
      ) : null}
      {reply?.ok === false ? <RefusalNotice error={reply.error} /> : null}
    </div>
  );
}

function stateInWords({ keychain, key, isHere }: TrailSigning): string {
  const lacks = keychain === "available" ? "" : ` ${WITHOUT[keychain]}`;
  if (key === null) return keychain === "available" ? "Heads are not signed." : lacks.trim();
  const named = `key ${key.fingerprint}, named by line ${key.line} on ${shownInstant(key.since)}`;
  if (isHere) return `Heads are signed in trail-heads.txt, reports, workbooks and JSON files: ${named}.`;
  if (keychain === "available") {
    return `Heads were signed with another computer’s or another account’s ${named}. Here they stay unsigned until this computer has a key of its own.`;
  }
  return `Heads were signed: ${named}.${lacks}`;
}
