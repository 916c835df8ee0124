import { useState } from "react";
import { LARGEST_CHART_PNG, type TrendViewChoice } from "#core/contract/records/trend.ts";
import { pngOfSvg } from "../../charts/png-of-svg.ts";
import { Button } from "../../parts/Button.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { ExportOutcome } from "../exchange/ExportOutcome.tsx";
import { useExport } from "../exchange/use-export.ts";

type What = "workbook" | "picture";

/** Saves the history as a workbook of data and picture, or the chart as it is shown as an SVG file; says where it went. */
export function useTrendExports(trainId: string, viewNow: () => TrendViewChoice) {
  const { view, busy, begin, cancel } = useExport();
  const [what, setWhat] = useState<What>("workbook");
  const [pictured, setPictured] = useState(true);

  function writeWorkbook(): Promise<void> {
    setWhat("workbook");
    return begin(async (client) => {
      const drawing = await client("trends.drawing", { trainId, view: viewNow() });
      if (!drawing.ok) return drawing;
      const png = await pngOfSvg(drawing.value, LARGEST_CHART_PNG);
      setPictured(png !== null);
      return client("trends.workbook", { trainId, png });
    });
  }

  function writePicture(): Promise<void> {
    setWhat("picture");
    setPictured(true);
    return begin((client) => client("trends.picture", { trainId, view: viewNow() }));
  }

  const buttons = (
    <>
      <Button disabled={busy} onClick={() => void writeWorkbook()}>
        {busy && what === "workbook" ? "Writing …" : "Workbook"}
      </Button>
      <Button disabled={busy} onClick={() => void writePicture()}>
        {busy && what === "picture" ? "Writing …" : "Picture"}
      </Button>
    </>
  );
  const isDone = view.at === "known" && view.progress.state === "done";
  const notice = (
    <>
      <ExportOutcome view={view} cancel={cancel} covers={what === "picture" ? "The file" : "All records"} />
      {isDone && !pictured ? (
        <Notice kind="care" live title="The workbook holds the data without the picture of the chart.">
          This window could not draw it. Save it with Picture instead.
        </Notice>
      ) : null}
    </>
  );
  return { buttons, notice };
}
