import { useState } from "react";
import type { CallReply } from "#core/contract/calls.ts";
import type { BackupFile } from "#core/contract/records/trail.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { useLongCall } from "../../bridge/use-long-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownBytes } from "../../parts/bench-words/bytes.ts";
import { ExportNotice } from "../../parts/bench-words/ExportNotice.tsx";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { WorkUnderWay } from "../../parts/WorkUnderWay.tsx";
import styles from "./RecordsTab.module.css";
import { RestorePanel } from "./RestorePanel.tsx";

const COLUMNS: readonly Column<BackupFile>[] = [
  { key: "file", title: "File", names: true, cell: (one) => one.fileName },
  { key: "made", title: "Made", unbroken: true, cell: (one) => shownInstant(one.madeAt) },
  { key: "why", title: "Why", cell: (one) => one.why },
  {
    key: "head",
    title: "Trail up to line",
    number: true,
    cell: (one) => one.head?.sequence ?? "not recorded",
  },
  { key: "bytes", title: "Size", number: true, cell: (one) => shownBytes(one.bytes) },
];

interface Looking {
  readonly fileName: string;
  readonly check: CallReply<"backups.check"> | null;
}

/** When a copy was last made without asking; nothing before the list is there. */
function dailyWords(files: readonly BackupFile[] | undefined): string {
  if (files === undefined) return "";
  const rule =
    "A copy is made by itself with the first change of a new day, and after a day's work when the program is closed.";
  const [last] = files
    .filter((one) => one.why === "daily")
    .map((one) => one.madeAt)
    .toSorted()
    .toReversed();
  if (last === undefined) return `${rule} None has been made yet.`;
  return `${rule} The last one was made on ${shownInstant(last)}.`;
}

/** Copies of the whole bench on this machine. */
export function BackupsTab() {
  const client = useClient();
  const backups = useCall("backups.list", {});
  const [busy, setBusy] = useState(false);
  const [reply, setReply] = useState<CallReply<"backups.make"> | null>(null);
  const [looking, setLooking] = useState<Looking | null>(null);
  const [handed, setHanded] = useState<CallReply<"backups.handOver"> | null>(null);
  const making = useLongCall();
  const checking = useLongCall();
  const make = async (): Promise<void> => {
    setReply(null);
    setReply(await making.run((requestId) => client("backups.make", { requestId })));
  };
  const look = async (fileName: string): Promise<void> => {
    checking.stop();
    setLooking({ fileName, check: null });
    const check = await checking.run((requestId) => client("backups.check", { fileName, requestId }));
    setLooking((now) => (now?.fileName === fileName ? { fileName, check } : now));
  };
  const handOver = async (): Promise<void> => {
    setBusy(true);
    setHanded(await client("backups.handOver", {}));
    setBusy(false);
  };
  const columns: readonly Column<BackupFile>[] = [
    ...COLUMNS,
    {
      key: "acts",
      title: "Actions",
      cell: (one) => (
        <Button
          look="quiet"
          aria-label={`Look inside ${one.fileName}`}
          onClick={() => void look(one.fileName)}
        >
          Look inside
        </Button>
      ),
    },
  ];
  return (
    <>
      {looking ? (
        <RestorePanel
          key={looking.fileName}
          fileName={looking.fileName}
          check={looking.check}
          work={checking}
          onClose={() => {
            checking.stop();
            setLooking(null);
          }}
        />
      ) : null}
      <Panel
        title="Backups"
        lead={`${dailyWords(backups.data)} The newest is a whole bench file; older ones hold what differs from it and need the files beside them. Keep a copy on another machine too.`}
        actions={
          <>
            <Button look="main" onClick={() => void make()} disabled={busy || making.busy}>
              Make a backup now
            </Button>
            <Button onClick={() => void handOver()} disabled={busy || making.busy}>
              Export the whole bench as one file
            </Button>
          </>
        }
      >
        <div className={styles.stack}>
          <WorkUnderWay what="Making a backup" work={making} />
          {reply ? (
            reply.ok ? (
              <Notice kind="done" live title={`Made: ${reply.value.fileName}`} />
            ) : (
              <RefusalNotice error={reply.error} />
            )
          ) : null}
          {handed && !busy ? (
            handed.ok ? (
              <ExportNotice file={handed.value} what="bench file" />
            ) : (
              <RefusalNotice error={handed.error} />
            )
          ) : null}
          <CallNotice calls={[backups]} waiting="Looking for backups …" />
          {backups.data ? (
            <DataTable
              caption="Backups, newest first"
              captionHidden
              columns={columns}
              rows={backups.data}
              rowKey={(one) => one.fileName}
              empty="No backup yet."
            />
          ) : null}
        </div>
      </Panel>
    </>
  );
}
