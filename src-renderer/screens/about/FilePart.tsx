import { useEffect, useState } from "react";
import type { CallReply } from "#core/contract/calls.ts";
import { FILE_CHECK, type WorkProgress } from "#core/contract/records/work.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { WorkUnderWay } from "../../parts/WorkUnderWay.tsx";

const LOOK_EVERY_MS = 500;
/** While nothing is known to be under way: the program may begin a check by itself. */
const LOOK_WHILE_IDLE_MS = 2_000;

function Outcome({ reply }: { reply: CallReply<"bench.checkFile"> }) {
  if (!reply.ok) return <RefusalNotice error={reply.error} />;
  const { faults } = reply.value;
  if (faults.length === 0) return <Notice kind="done" live title="The file is whole." />;
  return (
    <Notice
      kind="fault"
      live
      title="The file is damaged."
      hint="Enter nothing more. Under Records, Backups, restore the newest backup from before the damage; the present file is kept."
    >
      {faults.join("; ")}
    </Notice>
  );
}

/** The check of every page of the bench's file: begun by the program after a large bench was opened, or here. */
export function FilePart() {
  const client = useClient();
  const [progress, setProgress] = useState<WorkProgress | null>(null);
  const [reply, setReply] = useState<CallReply<"bench.checkFile"> | null>(null);
  const [asking, setAsking] = useState(false);
  const busy = asking || progress !== null;
  useEffect(() => {
    const look = async (): Promise<void> => {
      const now = await client("work.progress", { requestId: FILE_CHECK });
      if (now.ok) setProgress(now.value);
    };
    void look();
    const timer = setInterval(() => void look(), busy ? LOOK_EVERY_MS : LOOK_WHILE_IDLE_MS);
    return () => clearInterval(timer);
  }, [client, busy]);
  const check = async (): Promise<void> => {
    setReply(null);
    setAsking(true);
    setReply(await client("bench.checkFile", {}));
    setAsking(false);
  };
  const stop = (): void => void client("work.stop", { requestId: FILE_CHECK });
  return (
    <Panel
      title="The bench's file"
      lead="Every page is read and every reference followed. A small bench is checked so before it opens; a large one is opened after a first look and checked while you work."
      actions={
        <Button disabled={busy} onClick={() => void check()}>
          Check the file now
        </Button>
      }
    >
      <WorkUnderWay what="Checking the file" work={{ busy, progress, stop }} />
      {reply && !busy ? <Outcome reply={reply} /> : null}
    </Panel>
  );
}
