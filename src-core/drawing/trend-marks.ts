import { type ClippedMarks, FILLS, type Mark, type PathMark } from "./mark.ts";
import { breakFlags, endLabels, pointTexts } from "./trend-labels.ts";
import { PLOT, PLOT_BOTTOM, type TrendLayout } from "./trend-layout.ts";
import type { ModelBaseline, ModelLine, TrendModel } from "./trend-model.ts";
import {
  checkPath,
  densePaths,
  errorBarPath,
  isDense,
  leftOutPath,
  markPaths,
  one,
  ringPath,
} from "./trend-paths.ts";

const linePath = ({ x, y }: TrendLayout, line: ModelLine): string =>
  `M${one(x(line.fromDay))} ${one(y(line.from))}L${one(x(line.toDay))} ${one(y(line.to))}`;

/**
 * A history as marks: the same for the window, the picture in the workbook and the file. Thousands of points cost a few
 * paths, since it is elements that make a drawing slow.
 */
export function trendMarks(model: TrendModel, layout: TrendLayout): ClippedMarks {
  const { x, y, range, width } = layout;
  const dense = isDense(range) ? denseMarks(model, layout) : null;
  return {
    behind: axisMarks(model, layout),
    box: {
      x: PLOT.left,
      y: PLOT.top - PLOT.above,
      width: width - PLOT.right - PLOT.left,
      height: PLOT_BOTTOM - PLOT.top + PLOT.above,
    },
    inside: [
      ...toleranceMarks(model, layout),
      ...(dense ? [dense.under] : []),
      ...model.baselines.flatMap((baseline) => limitMarks(baseline, layout)),
      ...driftMarks(model, layout),
      ...breakFlags(model, layout),
      { look: "check", d: checkPath(model, true, x, y) },
      { look: "failed", d: checkPath(model, false, x, y) },
      ...(dense ? dense.over : points(model, layout)),
      { look: "leftOut", d: leftOutPath(model, range, x, y) },
    ],
    over: endLabels(model, layout),
  };
}

function axisMarks(model: TrendModel, { x, y, xTicks, yTicks, width }: TrendLayout): Mark[] {
  const right = width - PLOT.right;
  const ticks = xTicks.map(({ day }) => `M${one(x(day))} ${PLOT_BOTTOM}v6`).join("");
  const frame = `M${PLOT.left} ${PLOT.top - PLOT.above}V${PLOT_BOTTOM}H${right}`;
  const values = yTicks.map(
    ({ value, words }): Mark => ({
      look: "axisText",
      words,
      x: PLOT.left - 8,
      y: y(value),
      anchor: "end",
      centred: true,
    }),
  );
  const days = xTicks.map(
    ({ day, words }): Mark => ({ look: "axisText", words, x: x(day), y: PLOT_BOTTOM + 21, anchor: "middle" }),
  );
  return [
    { look: "grid", d: yTicks.map(({ value }) => `M${PLOT.left} ${one(y(value))}H${right}`).join("") },
    { look: "axis", d: `${frame}${ticks}` },
    ...values,
    ...days,
    {
      look: "axisText",
      words: model.unit === "percent" ? "change from the baseline’s first factor, %" : "factor, µm/div",
      x: 15,
      y: (PLOT_BOTTOM + PLOT.top) / 2,
      anchor: "middle",
      upwards: true,
    },
    {
      look: "axisText",
      words: "date of calibration",
      x: (PLOT.left + right) / 2,
      y: PLOT.height - 8,
      anchor: "middle",
    },
  ];
}

function toleranceMarks(model: TrendModel, { x, y, width }: TrendLayout): PathMark[] {
  if (!model.tolerance) return [];
  const { lower, upper, fromDay } = model.tolerance;
  const left = one(Math.max(PLOT.left, x(fromDay)));
  const right = width - PLOT.right;
  // Cut at the drawing's edge: a band far outside it would be a number with many digits.
  const at = (value: number): string => one(Math.min(PLOT.height, Math.max(0, y(value))));
  return [
    { look: "tolerance", d: `M${left} ${at(upper)}H${right}V${at(lower)}H${left}Z` },
    { look: "toleranceEdge", d: `M${left} ${one(y(upper))}H${right}M${left} ${one(y(lower))}H${right}` },
    { look: "nominal", d: `M${PLOT.left} ${one(y(model.nominal))}H${right}` },
  ];
}

function limitMarks(baseline: ModelBaseline, layout: TrendLayout): PathMark[] {
  const path = (lines: readonly ModelLine[]): string => lines.map((line) => linePath(layout, line)).join("");
  return [
    { look: "centre", d: linePath(layout, baseline.centre) },
    { look: "warning", d: path(baseline.warning) },
    { look: "action", d: path(baseline.action) },
  ];
}

function driftMarks({ drift }: TrendModel, layout: TrendLayout): PathMark[] {
  if (!drift?.established) return [];
  const { x, y } = layout;
  const there = drift.band.map(({ day, upper }) => `${one(x(day))} ${one(y(upper))}`);
  const back = drift.band.map(({ day, lower }) => `${one(x(day))} ${one(y(lower))}`).reverse();
  const last = drift.band.at(-1);
  const ahead =
    last && last.day > drift.toDay ? `L${one(x(last.day))} ${one(y((last.lower + last.upper) / 2))}` : "";
  return [
    { look: "driftBand", d: `M${[...there, ...back].join("L")}Z` },
    { look: "drift", d: `${linePath(layout, drift)}${ahead}` },
  ];
}

function points(model: TrendModel, layout: TrendLayout): Mark[] {
  const { x, y, range } = layout;
  const kinds = markPaths(model, range, x, y).map(
    (d, kind): PathMark => ({ look: FILLS[(model.kinds[kind]?.fill ?? 0) % FILLS.length] ?? "filled", d }),
  );
  return [
    { look: "bars", d: errorBarPath(model, range, x, y) },
    ...kinds,
    { look: "ring", d: ringPath(model, range, x, y) },
    ...pointTexts(model, layout),
  ];
}

/** Error bars that touch each other hide what lies under them: they come first, and pale. */
function denseMarks(model: TrendModel, layout: TrendLayout): { under: PathMark; over: PathMark[] } {
  const { bars, dots, fired } = densePaths(
    model,
    layout.range,
    layout.x,
    layout.y,
    PLOT.top - PLOT.above + 2,
  );
  return {
    under: { look: "haze", d: bars },
    over: [
      { look: "dots", d: dots },
      { look: "failed", d: fired },
    ],
  };
}
