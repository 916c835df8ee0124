import { useState } from "react";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { ExportOutcome } from "../exchange/ExportOutcome.tsx";
import { useExport } from "../exchange/use-export.ts";
import { ReportPage } from "./ReportPage.tsx";
import { ReportPictures } from "./ReportPictures.tsx";

/** The report of one sheet, with the way to paper and back. */
export function ReportTab({ sheetId }: { sheetId: string }) {
  const client = useClient();
  const navigation = useNavigation();
  const report = useCall("reports.sheet", { sheetId });
  const exporting = useExport();
  const [choice, setChoice] = useState<"without" | "drawing" | "with">("without");
  const pictures = report.data?.pictures ?? [];
  const print = async (): Promise<void> => {
    const reply = await client("reports.print", { sheetId });
    if (reply.ok && reply.value.by === "window") window.print();
    else await exporting.begin(async () => (reply.ok ? { ok: true, value: reply.value.begun } : reply));
  };
  return (
    <>
      <div data-screen-only>
        <Button
          look="main"
          disabled={!report.data || exporting.busy || choice === "drawing"}
          onClick={() => void print()}
        >
          Print or save as PDF
        </Button>{" "}
        {pictures.length > 0 ? (
          <label>
            <input
              type="checkbox"
              checked={choice !== "without"}
              onChange={(event) => setChoice(event.target.checked ? "drawing" : "without")}
            />{" "}
            with the {countedNoun(pictures.length, "picture")} of rows
          </label>
        ) : null}{" "}
        <Button onClick={() => navigation.go({ screen: "records", tab: "sheets", recordId: null })}>
          Back to the sheets
        </Button>
        <ExportOutcome view={exporting.view} cancel={exporting.cancel} />
      </div>
      <CallNotice calls={[report]} waiting="Working the report out …" />
      {report.data ? (
        <ReportPage
          report={report.data}
          pictures={
            choice === "without" || pictures.length === 0 ? null : (
              <ReportPictures pictures={pictures} onSettled={() => setChoice("with")} />
            )
          }
        />
      ) : null}
    </>
  );
}
