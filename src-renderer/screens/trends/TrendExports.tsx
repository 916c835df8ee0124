import { useState } from "react";
import type { CallOutput } from "#core/contract/calls.ts";
import { LARGEST_CHART_PNG, type TrendViewChoice } from "#core/contract/records/trend.ts";
import type { CallError, Reply } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { pngOfSvg } from "../../charts/png-of-svg.ts";
import { Button } from "../../parts/Button.tsx";
import { ExportNotice } from "../../parts/bench-words/ExportNotice.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";

type What = "workbook" | "picture";
type Outcome =
  | { readonly at: "writing"; readonly what: What }
  | { readonly at: "done"; readonly what: What; readonly file: CallOutput<"trends.picture"> }
  | { readonly at: "refused"; readonly error: CallError };

/** Saves the history as a workbook of data and picture, or the chart as it is shown as an SVG file; says where it went. */
export function useTrendExports(trainId: string, viewNow: () => TrendViewChoice) {
  const client = useClient();
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const [pictured, setPictured] = useState(true);

  const finish = (what: What, reply: Reply<CallOutput<"trends.picture">>): void =>
    setOutcome(reply.ok ? { at: "done", what, file: reply.value } : { at: "refused", error: reply.error });

  async function writeWorkbook(): Promise<void> {
    setOutcome({ at: "writing", what: "workbook" });
    const drawing = await client("trends.drawing", { trainId, view: viewNow() });
    if (!drawing.ok) return setOutcome({ at: "refused", error: drawing.error });
    const png = await pngOfSvg(drawing.value, LARGEST_CHART_PNG);
    setPictured(png !== null);
    finish("workbook", await client("trends.workbook", { trainId, png }));
  }

  async function writePicture(): Promise<void> {
    setOutcome({ at: "writing", what: "picture" });
    setPictured(true);
    finish("picture", await client("trends.picture", { trainId, view: viewNow() }));
  }

  const busy = outcome?.at === "writing" ? outcome.what : null;
  const buttons = (
    <>
      <Button disabled={busy !== null} onClick={() => void writeWorkbook()}>
        {busy === "workbook" ? "Writing …" : "Workbook"}
      </Button>
      <Button disabled={busy !== null} onClick={() => void writePicture()}>
        {busy === "picture" ? "Writing …" : "Picture"}
      </Button>
    </>
  );
  const notice = (
    <>
      {outcome?.at === "done" ? <ExportNotice file={outcome.file} what={outcome.what} /> : null}
      {outcome?.at === "done" && !pictured ? (
        <Notice kind="care" live title="The workbook holds the data without the picture of the chart.">
          This window could not draw it. Save it with Picture instead.
        </Notice>
      ) : null}
      {outcome?.at === "refused" ? <RefusalNotice error={outcome.error} /> : null}
    </>
  );
  return { buttons, notice };
}
