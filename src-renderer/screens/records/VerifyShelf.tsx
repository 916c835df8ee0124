import { useEffect, useState } from "react";
import type { CallReply } from "#core/contract/calls.ts";
import type { VerifyProgress, VerifyReport } from "#core/contract/records/trail.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import styles from "./Shelf.module.css";

type Difference = VerifyReport["differences"][number];

const COLUMNS: readonly Column<Difference & { readonly number: number }>[] = [
  { key: "number", title: "No.", number: true, cell: (one) => one.number },
  { key: "where", title: "Where", names: true, cell: (one) => one.where },
  { key: "stored", title: "Stored", cell: (one) => one.stored },
  { key: "expected", title: "Expected", cell: (one) => one.expected },
];

const LOOK_EVERY_MS = 300;

/** Recomputes everything from its readings and says in words whether it agrees. */
export function VerifyShelf() {
  const client = useClient();
  const [busy, setBusy] = useState(false);
  const [progress, setProgress] = useState<VerifyProgress | null>(null);
  const [reply, setReply] = useState<CallReply<"trail.verify"> | null>(null);
  useEffect(() => {
    if (!busy) return undefined;
    const timer = setInterval(() => {
      void client("trail.verifying", {}).then((now) => setProgress(now.ok ? now.value : null));
    }, LOOK_EVERY_MS);
    return () => clearInterval(timer);
  }, [busy, client]);
  const verify = async (): Promise<void> => {
    setBusy(true);
    setProgress(null);
    setReply(await client("trail.verify", {}));
    setBusy(false);
  };
  return (
    <Panel
      title="Verify"
      lead="Recomputes every factor and every size from its readings as typed, and every hash of the audit trail."
    >
      <div className={styles.stack}>
        <p>
          {busy ? (
            <Button onClick={() => void client("trail.stopVerifying", {})}>Stop</Button>
          ) : (
            <Button look="main" onClick={() => void verify()}>
              Verify now
            </Button>
          )}
        </p>
        {busy ? <UnderWay progress={progress} /> : null}
        {reply && !reply.ok && !busy ? (
          <Notice
            kind={reply.error.code === "verify.stopped" ? "care" : "fault"}
            live
            title={reply.error.message}
            hint={reply.error.hint}
          />
        ) : null}
        {reply?.ok && !busy ? <Report report={reply.value} /> : null}
      </div>
    </Panel>
  );
}

function UnderWay({ progress }: { progress: VerifyProgress | null }) {
  const { part, done, parts } = progress ?? { part: "", done: 0, parts: 1 };
  return (
    <Notice
      title={progress === null ? "Verifying …" : `Verifying ${part}: part ${done + 1} of ${parts}`}
      hint="Entry can go on meanwhile."
    >
      <progress className={styles.progress} value={done} max={parts} aria-label="Verified" />
    </Notice>
  );
}

function Report({ report }: { report: VerifyReport }) {
  const { measurements, calibrations, tallies, trailLines, differences, more } = report;
  const { supersededResults, checks, attachments, signOffs } = report;
  const scope = `${countedNoun(measurements, "measurement")}, ${countedNoun(supersededResults, "replaced result")}, ${countedNoun(calibrations, "calibration")}, ${countedNoun(checks, "quick check")}, ${countedNoun(tallies, "keyed count")} and ${countedNoun(trailLines, "line")} of the audit trail were recomputed; ${countedNoun(attachments, "attachment")} and ${countedNoun(signOffs, "closing, review or signature", "closings, reviews and signatures")} were held against their hashes.`;
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
