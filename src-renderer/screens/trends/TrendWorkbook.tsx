import { useState } from "react";
import type { CallOutput } from "#core/contract/calls.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { ExportNotice } from "../records/ExportNotice.tsx";

type Outcome =
  | { readonly at: "writing" }
  | { readonly at: "done"; readonly file: CallOutput<"trends.workbook"> }
  | { readonly at: "refused"; readonly error: CallError };

/** Writes the history as a workbook of data, and says where it went. */
export function useTrendWorkbook(trainId: string) {
  const client = useClient();
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const write = async (): Promise<void> => {
    setOutcome({ at: "writing" });
    const reply = await client("trends.workbook", { trainId });
    setOutcome(reply.ok ? { at: "done", file: reply.value } : { at: "refused", error: reply.error });
  };
  const busy = outcome?.at === "writing";
  const button = (
    <Button disabled={busy} onClick={() => void write()}>
      {busy ? "Writing …" : "Workbook"}
    </Button>
  );
  return { button, notice: <WorkbookNotice outcome={outcome} /> };
}

function WorkbookNotice({ outcome }: { outcome: Outcome | null }) {
  if (outcome?.at === "done") return <ExportNotice file={outcome.file} />;
  if (outcome?.at === "refused") {
    return <Notice kind="fault" live title={outcome.error.message} hint={outcome.error.hint} />;
  }
  return null;
}
