import { useState } from "react";
import type { CallReply } from "#core/contract/calls.ts";
import type { VerifyReport } from "#core/contract/records/trail.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useLongCall } from "../../bridge/use-long-call.ts";
import { Button } from "../../parts/Button.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { WorkUnderWay } from "../../parts/WorkUnderWay.tsx";
import { NotedHeadsPanel } from "./NotedHeadsPanel.tsx";
import styles from "./RecordsTab.module.css";

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
  const [reply, setReply] = useState<CallReply<"trail.verify"> | null>(null);
  const verify = async (): Promise<void> => {
    setReply(null);
    setReply(await work.run((requestId) => client("trail.verify", { requestId })));
  };
  return (
    <>
      <Panel
        title="Verify"
        lead="Recomputes every factor and every size from its readings as typed, and every hash of the audit trail."
      >
        <div className={styles.stack}>
          <p>
            <Button look="main" disabled={work.busy} onClick={() => void verify()}>
              Verify now
            </Button>
          </p>
          <WorkUnderWay what="Verifying" work={work} />
          {reply && !reply.ok ? <RefusalNotice error={reply.error} /> : null}
          {reply?.ok ? <Report report={reply.value} /> : null}
        </div>
      </Panel>
      <NotedHeadsPanel />
    </>
  );
}

function Report({ report }: { report: VerifyReport }) {
  const { measurements, calibrations, counts, trailLines, differences, more } = report;
  const { supersededResults, checks, attachments, signOffs } = report;
  const scope = `${countedNoun(measurements, "measurement")}, ${countedNoun(supersededResults, "replaced result")}, ${countedNoun(calibrations, "calibration")}, ${countedNoun(checks, "quick check")}, ${countedNoun(counts, "keyed count")} and ${countedNoun(trailLines, "line")} of the audit trail were recomputed; ${countedNoun(attachments, "attachment")} and ${countedNoun(signOffs, "closing, review or signature", "closings, reviews and signatures")} were held against their hashes.`;
  if (differences.length === 0) {
    return (
      <Notice kind="done" live title="Everything agrees.">
        {scope}
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
