import { useState } from "react";
import type { CallReply } from "#core/contract/calls.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { ReportPage } from "./ReportPage.tsx";

/** The report of one sheet, with the way to paper and back. */
export function ReportTab({ sheetId }: { sheetId: string }) {
  const client = useClient();
  const navigation = useNavigation();
  const report = useCall("reports.sheet", { sheetId });
  const [printed, setPrinted] = useState<CallReply<"reports.print"> | null>(null);
  const print = async (): Promise<void> => {
    const reply = await client("reports.print", { sheetId });
    if (reply.ok && reply.value.by === "window") window.print();
    else setPrinted(reply);
  };
  return (
    <>
      <div data-screen-only>
        <Button look="main" disabled={!report.data} onClick={() => void print()}>
          Print or save as PDF
        </Button>{" "}
        <Button onClick={() => navigation.go({ screen: "records", tab: "sheets", recordId: null })}>
          Back to the sheets
        </Button>
        {printed === null ? null : <Printed reply={printed} />}
      </div>
      <CallNotice calls={[report]} waiting="Working the report out …" />
      {report.data ? <ReportPage report={report.data} /> : null}
    </>
  );
}

function Printed({ reply }: { reply: CallReply<"reports.print"> }) {
  if (!reply.ok) return <RefusalNotice error={reply.error} />;
  const { file } = reply.value;
  if (file === null) return <Notice live>Nothing was written: the choice of a place was cancelled.</Notice>;
  return (
    <Notice kind="done" live title={`Written: ${file.fileName}`}>
      <p>{file.path}</p>
    </Notice>
  );
}
