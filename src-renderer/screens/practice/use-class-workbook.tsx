import { useState } from "react";
import type { CallOutput } from "#core/contract/calls.ts";
import type { Reply } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { ExportNotice } from "../../parts/bench-words/ExportNotice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";

/** Writes the results of a class as a workbook, and says where it went. */
export function useClassWorkbook(classId: string) {
  const client = useClient();
  const [busy, setBusy] = useState(false);
  const [reply, setReply] = useState<Reply<CallOutput<"practice.classWorkbook">> | null>(null);
  const write = async (): Promise<void> => {
    setBusy(true);
    setReply(await client("practice.classWorkbook", { classId }));
    setBusy(false);
  };
  return {
    button: (
      <Button disabled={busy} onClick={() => void write()}>
        {busy ? "Writing …" : "Workbook"}
      </Button>
    ),
    notice:
      reply === null ? null : reply.ok ? (
        <ExportNotice file={reply.value} />
      ) : (
        <RefusalNotice error={reply.error} />
      ),
  };
}
