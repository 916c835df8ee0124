import { memo } from "react";
import type { TrendLayout } from "#core/drawing/trend-layout.ts";
import { trendMarks } from "#core/drawing/trend-marks.ts";
import type { TrendModel } from "#core/drawing/trend-model.ts";
import { Marks } from "./Marks.tsx";

export interface TrendBaseProps {
  readonly model: TrendModel;
  readonly layout: TrendLayout;
}

/** Everything of the chart but the point that is read out; drawn anew only when window, width or data change. */
export const TrendBase = memo(function TrendBase({ model, layout }: TrendBaseProps) {
  const { behind, box, inside, over } = trendMarks(model, layout);
  return (
    <>
      <clipPath id="trend-plot">
        <rect {...box} />
      </clipPath>
      <Marks marks={behind} />
      <Marks marks={inside} clip="trend-plot" />
      <Marks marks={over} />
    </>
  );
});
