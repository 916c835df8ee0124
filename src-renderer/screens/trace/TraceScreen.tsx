import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import type { Location } from "../../window/location.ts";
import { ByHandPage } from "./ByHandPage.tsx";
import { ChainPage } from "./ChainPage.tsx";
import { ForwardPage } from "./ForwardPage.tsx";

export type TraceLocation = Extract<Location, { screen: "trace" }>;

/** Trace: from one result back to its certificate, or from a doubt forward to every result. */
export function TraceScreen({ location }: { location: TraceLocation }) {
  const { result, subject } = location;
  if (result?.byHand) return <ByHandPage result={result} />;
  if (result) return <ChainPage key={`${result.rowId} ${result.dimension}`} result={result} />;
  return (
    <ScreenFrame
      title="Trace"
      lead="From a certificate, micrometer, reticle, objective, calibration or event forward to every result it touched. The way back begins at the result itself: F9 in Measure, or “Trace back” in Records."
    >
      <ForwardPage key={subject ? `${subject.kind} ${subject.id}` : "none"} subject={subject} />
    </ScreenFrame>
  );
}
