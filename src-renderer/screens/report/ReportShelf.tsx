import { useNavigation } from "../../app/navigation-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { ReportPage } from "./ReportPage.tsx";

/** The report of one sheet, with the way to paper and back. */
export function ReportShelf({ sheetId }: { sheetId: string }) {
  const navigation = useNavigation();
  const report = useCall("reports.sheet", { sheetId });
  return (
    <>
      <p data-screen-only>
        <Button look="main" disabled={!report.data} onClick={() => window.print()}>
          Print or save as PDF
        </Button>{" "}
        <Button onClick={() => navigation.go({ screen: "records", shelf: "sheets", recordId: null })}>
          Back to the sheets
        </Button>
      </p>
      <CallNotice calls={[report]} waiting="Working the report out …" />
      {report.data ? <ReportPage report={report.data} /> : null}
    </>
  );
}
