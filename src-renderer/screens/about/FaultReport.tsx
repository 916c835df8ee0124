import { useState } from "react";
import type { BenchStatus, FaultLine } from "#core/contract/records/bench.ts";
import type { CallError } from "#core/contract/reply.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CopyByHand } from "../../parts/clipboard/CopyByHand.tsx";
import { putOnClipboard } from "../../parts/clipboard/put-on-clipboard.ts";
import { Panel } from "../../parts/layout/Panel.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";

/** As many as a report needs to show what came before the last one. */
const NEWEST = 10;

/** The program's own folder, then any other: their names may be a person's. */
const OWN = /(?:file:\/\/)?(?:[A-Za-z]:)?[\\/][^\s'"()]*?[\\/](?=(?:src-\w+|out|node_modules)[\\/])/g;
const OTHER = /(?<![\w:.…/])(?:file:\/\/)?(?:[A-Za-z]:[\\/]|\/)(?:[^\s'"()\\/]+[\\/])+/g;

/** As the system names a file in a message; a folder's name may hold spaces. */
const QUOTED = /(['"])(?:[A-Za-z]:)?[\\/][^'"]*[\\/]([^'"\\/]*)\1/g;

const withoutFolders = (text: string): string =>
  text.replace(QUOTED, "$1…/$2$1").replace(OWN, "").replace(OTHER, "…/");

/** What a maintainer needs to find a defect: no name, no reading and no path stands in it. */
export function faultReportText(
  program: BenchStatus["program"],
  engine: string,
  faults: readonly FaultLine[],
): string {
  return [
    `${program.name} ${program.version}, ${program.host}`,
    engine,
    `${countedNoun(faults.length, "fault")}, the newest first`,
    ...faults.flatMap(({ number, at, where, message, stack }) => [
      "",
      `${number} ${at} in ${where}: ${withoutFolders(message)}`,
      // The first line says the message again.
      ...withoutFolders(stack).split("\n").slice(1),
    ]),
    "",
    "What I did before it happened:",
  ].join("\n");
}

/** Defects of the program that this bench's log holds, as a text to copy and send. */
export function FaultReport() {
  const client = useClient();
  const { data: status } = useCall("bench.status", {});
  const [error, setError] = useState<CallError | null>(null);
  const [said, setSaid] = useState("");
  const [byHand, setByHand] = useState<string | null>(null);
  const copy = async (): Promise<void> => {
    const faults = await client("bench.faults", { count: NEWEST });
    setError(faults.ok ? null : faults.error);
    if (!faults.ok || !status) return;
    const text = faultReportText(status.program, navigator.userAgent, faults.value);
    const done = await putOnClipboard(text);
    const newest = faults.value[0];
    setSaid(
      `${newest ? `The last fault here was ${newest.number}, in ${newest.where}.` : "No fault is on record here."}${
        done ? " The report is on the clipboard." : ""
      }`,
    );
    setByHand(done ? null : text);
  };
  return (
    <Panel
      title="Fault report"
      lead="For whoever looks after the program: version, system and the newest faults; no readings, names or folders. Nothing is sent: you paste it where you report."
      actions={<Button onClick={() => void copy()}>Copy the report</Button>}
    >
      {error ? <RefusalNotice error={error} /> : null}
      <p role="status">{said}</p>
      {byHand === null ? null : <CopyByHand text={byHand} />}
    </Panel>
  );
}
