import { useState } from "react";
import type { CallReply } from "#core/contract/calls.ts";
import { partsOfHead, type TrailHead, type VerifyReport } from "#core/contract/records/trail.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { useLongCall } from "../../bridge/use-long-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { WorkUnderWay } from "../../parts/WorkUnderWay.tsx";
import { type Followed, followedBefore, rememberFollowed } from "./followed-to.ts";
import { NotedHeadsPanel } from "./NotedHeadsPanel.tsx";
import styles from "./RecordsTab.module.css";

const MEMORY = { storage: localStorage, page: document };

type Difference = VerifyReport["differences"][number];

const COLUMNS: readonly Column<Difference & { readonly number: number }>[] = [
  { key: "number", title: "No.", number: true, cell: (one) => one.number },
  { key: "where", title: "Where", names: true, cell: (one) => one.where },
  { key: "stored", title: "Stored", cell: (one) => one.stored },
  { key: "expected", title: "Expected", cell: (one) => one.expected },
];

/** Recomputes everything from its readings and says in words whether it agrees. */
export function VerifyTab() {
  const client = useClient();
  const work = useLongCall();
  const bench = useCall("bench.status", {}).data?.databasePath;
  const [reply, setReply] = useState<CallReply<"trail.verify"> | null>(null);
  const [remembered, setRemembered] = useState<Followed | null>(null);
  const followed = remembered ?? (bench === undefined ? null : followedBefore(bench, MEMORY));
  /** Of a run that found nothing, or that was stopped: how far it came is known by the host. */
  const remember = (head: TrailHead | null): void => {
    if (head === null || bench === undefined) return;
    const now: Followed = { bench, head, at: new Date().toISOString() };
    rememberFollowed(now, MEMORY);
    setRemembered(now);
  };
  const verify = async (from?: TrailHead): Promise<void> => {
    setReply(null);
    const answer = await work.run((requestId) => client("trail.verify", { requestId, from }));
    setReply(answer);
    if (answer.ok) {
      if (answer.value.differences.length === 0) remember(answer.value.followedTo);
      return;
    }
    const came = await client("trail.followedTo", {});
    if (came.ok) remember(came.value);
  };
  return (
    <>
      <Panel
        title="Verify"
        lead="Recomputes every factor and every size from its readings as typed, and every hash of the audit trail."
      >
        <div className={styles.stack}>
          {followed ? <GoOnFrom followed={followed} /> : null}
          <div className={styles.acts}>
            <Button look="main" disabled={work.busy} onClick={() => void verify()}>
              {followed ? "Verify the whole" : "Verify now"}
            </Button>
            {followed ? (
              <Button disabled={work.busy} onClick={() => void verify(followed.head)}>
                Go on from line {partsOfHead(followed.head).sequence}
              </Button>
            ) : null}
          </div>
          <WorkUnderWay what="Verifying" work={work} />
          {reply && !reply.ok ? <RefusalNotice error={reply.error} /> : null}
          {reply?.ok ? <Report report={reply.value} /> : null}
        </div>
      </Panel>
      <NotedHeadsPanel />
    </>
  );
}

/** What going on takes for granted, said before it is chosen. */
function GoOnFrom({ followed: { head, at } }: { followed: Followed }) {
  const { sequence } = partsOfHead(head);
  return (
    <p>
      On {shownInstant(at)} the audit trail was followed to line {sequence}, and every hash agreed. Going on
      from there does not compute the hashes of lines 1 to {sequence} again: it takes for granted that nobody
      has changed them since. Everything else is looked at, and every record is held against the trail.
    </p>
  );
}

function Report({ report }: { report: VerifyReport }) {
  const { measurements, calibrations, counts, trailLines, differences, more } = report;
  const { supersededResults, checks, attachments, signOffs, wentOnFrom } = report;
  const scope = `${countedNoun(measurements, "measurement")}, ${countedNoun(supersededResults, "replaced result")}, ${countedNoun(calibrations, "calibration")}, ${countedNoun(checks, "quick check")}, ${countedNoun(counts, "keyed count")} and ${countedNoun(trailLines, "line")} of the audit trail were recomputed; ${countedNoun(attachments, "attachment")} and ${countedNoun(signOffs, "closing, review or signature", "closings, reviews and signatures")} were held against their hashes.`;
  if (differences.length === 0) {
    return (
      <Notice
        kind="done"
        live
        title={wentOnFrom === null ? "Everything agrees." : "Everything that was looked at agrees."}
      >
        {scope}
        {wentOnFrom === null
          ? null
          : ` The hashes of lines 1 to ${wentOnFrom} were not computed again; line ${wentOnFrom} still has the hash it had then.`}
      </Notice>
    );
  }
  return (
    <>
      <Notice
        kind="fault"
        live
        title={`${more ? "More than " : ""}${countedNoun(differences.length, "difference")} found.`}
        hint="Keep a backup of this state, and report none of the results named below until the cause is found."
      >
        <p>{scope}</p>
      </Notice>
      <DataTable
        caption="Differences"
        columns={COLUMNS}
        rows={differences.map((one, index) => ({ ...one, number: index + 1 }))}
        rowKey={(one) => String(one.number)}
        empty="None."
      />
    </>
  );
}
