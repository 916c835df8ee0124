import type { ReportPicture } from "#core/contract/records/exchange.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import {
  type PaperPicture,
  PaperPictures,
  PicturesChoice,
  usePaperPictures,
} from "../../parts/attachments/PaperPictures.tsx";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { ExportOutcome } from "../exchange/ExportOutcome.tsx";
import { useExport } from "../exchange/use-export.ts";
import { ReportPage } from "./ReportPage.tsx";

function paperPicture({ attachment, ordinal, label, place }: ReportPicture): PaperPicture {
  return { attachment, of: [`Row ${ordinal}`, label, place].filter((part) => part !== "").join(", ") };
}

/** The report of one sheet, with the way to paper and back. */
export function ReportTab({ sheetId }: { sheetId: string }) {
  const client = useClient();
  const navigation = useNavigation();
  const report = useCall("reports.sheet", { sheetId });
  const exporting = useExport();
  const paper = usePaperPictures();
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
          disabled={!report.data || exporting.busy || paper.isDrawing}
          onClick={() => void print()}
        >
          Print or save as PDF
        </Button>{" "}
        <PicturesChoice count={pictures.length} of="rows" paper={paper} />{" "}
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
            paper.isWanted && pictures.length > 0 ? (
              <PaperPictures
                title="Pictures of rows"
                pictures={pictures.map(paperPicture)}
                onSettled={paper.settled}
              />
            ) : null
          }
        />
      ) : null}
    </>
  );
}
