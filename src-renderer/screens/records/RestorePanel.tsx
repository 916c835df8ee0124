import { useState } from "react";
import type { CallOutput, CallReply } from "#core/contract/calls.ts";
import { useBridge } from "../../bridge/bridge-context.tsx";
import type { LongCall } from "../../bridge/use-long-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { ReasonForm } from "../../parts/form/ReasonForm.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { WorkUnderWay } from "../../parts/WorkUnderWay.tsx";
import styles from "./RecordsTab.module.css";

type Restored = CallOutput<"backups.restore">;

export interface RestorePanelProps {
  readonly fileName: string;
  readonly check: CallReply<"backups.check"> | null;
  /** The looking inside, while it goes on. */
  readonly work: LongCall;
  readonly onClose: () => void;
}

/** What a backup holds, opened as a copy; and the act that sets it in the place of the bench. */
export function RestorePanel({ fileName, check, work, onClose }: RestorePanelProps) {
  const { client, host } = useBridge();
  const [restored, setRestored] = useState<Restored | null>(null);
  return (
    <Panel
      title={`Backup ${fileName}`}
      actions={restored ? null : <Button onClick={onClose}>Leave the bench as it is</Button>}
    >
      <div className={styles.stack}>
        {check === null ? (
          <WorkUnderWay what="Looking inside" work={work} />
        ) : check.ok ? (
          <Facts facts={factsOf(check.value)} />
        ) : (
          <RefusalNotice error={check.error} />
        )}
        {restored ? (
          <Notice kind="done" live title="The backup is the bench now.">
            <p>{restored.words}</p>
            <p>The bench before it was kept as {restored.keptAside}.</p>
            <p>
              <Button look="main" onClick={() => host.readAnew()}>
                Read everything anew
              </Button>
            </p>
          </Notice>
        ) : null}
        {check?.ok && !restored ? (
          <ReasonForm
            id={`restore-${fileName}`}
            label="Restore this backup"
            what="the restoring of a backup"
            submit="Restore this backup"
            send={(reason, requestId) => client("backups.restore", { requestId, fileName, reason })}
            onSaved={setRestored}
          >
            <Notice kind="care" title="Everything entered after this backup is not in it.">
              The present bench is kept aside under another name, whole.
            </Notice>
          </ReasonForm>
        ) : null}
      </div>
    </Panel>
  );
}

function factsOf(check: CallOutput<"backups.check">) {
  return [
    ["Made", shownInstant(check.madeAt)],
    [
      "Version of the file",
      check.version === check.programVersion
        ? String(check.version)
        : `${check.version}; this program writes ${check.programVersion} and will bring it up to that`,
    ],
    ["Sheets", check.sheets],
    ["Rows", check.rows],
    ["Lines of the trail", check.trailLines],
    ["Newest act", check.newestAct ? shownInstant(check.newestAct) : "none"],
    [
      "Attachments",
      check.attachments === 0
        ? "none"
        : `${check.attachments}, ${check.missingAttachments === 0 ? "all there" : `${check.missingAttachments} of them missing`}`,
    ],
  ] as const;
}
