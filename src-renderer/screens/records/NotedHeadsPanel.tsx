import { useState } from "react";
import type { CallOutput, CallReply } from "#core/contract/calls.ts";
import type { HeadsComparison } from "#core/contract/records/trail.ts";
import { errorWords } from "#core/contract/reply.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import styles from "./RecordsTab.module.css";

/** Holds the trail against lines of it that were noted outside the bench. */
export function NotedHeadsPanel() {
  const client = useClient();
  const [noted, setNoted] = useState("");
  const [reply, setReply] = useState<CallReply<"trail.compareHeads"> | null>(null);
  const compare = async (): Promise<void> => setReply(await client("trail.compareHeads", { noted }));
  return (
    <Panel
      title="Lines noted elsewhere"
      lead="A hash inside the file proves nothing against somebody who can write the file; one noted outside it does."
    >
      <div className={styles.stack}>
        <TextField
          id="noted-heads"
          label="Text with lines and their hashes"
          lines={3}
          value={noted}
          onChange={(text) => {
            setNoted(text);
            setReply(null);
          }}
          error={reply && !reply.ok ? errorWords(reply.error) : undefined}
          hint="Paste the foot of a report, a cell of an export, or all of trail-heads.txt: each line stands as 412:9f86d081…"
        />
        <p>
          <Button onClick={() => void compare()}>Compare with the trail</Button>
        </p>
        {reply?.ok ? <Outcome {...reply.value} /> : null}
      </div>
    </Panel>
  );
}

type Compared = CallOutput<"trail.compareHeads">;

/** What the signatures among the text say; nothing where there is none. */
function Signatures({ agreeing, keys, wrong, unknown }: Compared["signatures"]) {
  const lines = [
    ...wrong.map(
      ({ sequence }) =>
        `The signature of line ${sequence} was not made over it: head, instant or signature were changed.`,
    ),
    ...unknown.map(
      ({ sequence, fingerprint }) =>
        `Line ${sequence} is signed with key ${fingerprint}, which this trail does not name: it is another bench’s, or this history was written anew.`,
    ),
  ];
  return (
    <>
      {lines.length > 0 ? (
        <Notice kind="fault" live title={`${countedNoun(lines.length, "signature")} not of this trail.`}>
          <ul>
            {lines.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </Notice>
      ) : null}
      {agreeing > 0 ? (
        <Notice kind="done" live title={`${countedNoun(agreeing, "signature")} of this trail.`}>
          Made with {keys.map(({ fingerprint, line }) => `key ${fingerprint} (line ${line})`).join(", ")}.
          Compare the key with one noted elsewhere: who writes a bench anew can name another.
        </Notice>
      ) : null}
    </>
  );
}

function Outcome({ signatures, ...heads }: Compared) {
  return (
    <>
      <Heads {...heads} />
      <Signatures {...signatures} />
    </>
  );
}

function Heads({ compared, agreesUpTo, differing }: HeadsComparison) {
  const [first] = differing;
  if (!first) {
    return (
      <Notice kind="done" live title={`History up to line ${agreesUpTo} is the one that was noted.`}>
        {countedNoun(compared, "line")} compared. What came after line {agreesUpTo} is not proven by them.
      </Notice>
    );
  }
  return (
    <Notice
      kind="fault"
      live
      title={`History was written anew somewhere from line ${agreesUpTo + 1} to line ${first.sequence}, or this is not the bench they were noted from.`}
      hint="Keep this file as it is, and compare a backup that was made before: its name says which line it ends with."
    >
      <ul>
        {differing.map(({ sequence, hash }) => (
          <li key={`${sequence}:${hash}`}>
            Line {sequence} was noted with the hash {hash.slice(0, 16)}
            {hash.length > 16 ? "…" : ""}; here it is gone or another.
          </li>
        ))}
      </ul>
    </Notice>
  );
}
