import { shortHead, TRAIL_HEAD_LABEL, type TrailHead } from "../contract/records/trail.ts";
import type { TrainTrend, TrendViewChoice } from "../contract/records/trend.ts";
import { countedNoun } from "../quantity/counted-noun.ts";
import { dateOfDay } from "../trends/civil-day.ts";
import { wordsInLines } from "./lines-of-words.ts";
import type { Mark, TextLook } from "./mark.ts";
import { TEXT_STYLES } from "./print-looks.ts";
import type { Layer, Picture } from "./svg-text.ts";
import { isOnPlot, PLOT, trendLayout } from "./trend-layout.ts";
import { type LegendEntry, SAMPLE, trendLegend } from "./trend-legend.ts";
import { trendMarks } from "./trend-marks.ts";
import { dayOf, eventLetter, trendModel } from "./trend-model.ts";
import { visibleRange, wholeSpan } from "./trend-span.ts";
import { trendSummary } from "./trend-summary.ts";

export interface TrendPictureOptions {
  readonly view: TrendViewChoice;
  /** Name of the train. */
  readonly train: string;
  /** Name and version of the program. */
  readonly programLine: string;
  /** How far the audit trail of the bench went; null where it is not told. */
  readonly trailHead: TrailHead | null;
}

const WIDTH = 1200;
const SIDE = 24;
const ROOM = WIDTH - 2 * SIDE;
/** The chart brings air of its own at its sides. */
const CHART_SIDE = 10;
const LEGEND_COLUMNS = 3;
/** More events than this stand in the table only. */
const MOST_EVENTS = 12;

/** Lines of text under each other, from `y` down. */
function textBlock(look: TextLook, texts: readonly string[], y: number): { marks: Mark[]; to: number } {
  const { size } = TEXT_STYLES[look];
  const lines = texts.flatMap((text) => wordsInLines(text, ROOM / size));
  const marks = lines.map(
    (words, at): Mark => ({ look, words, x: SIDE, y: y + size * (1 + at * 1.35), anchor: "start" }),
  );
  return { marks, to: y + lines.length * size * 1.35 };
}

function legendLayers(entries: readonly LegendEntry[], y: number): { layers: Layer[]; to: number } {
  const column = ROOM / LEGEND_COLUMNS;
  const { size } = TEXT_STYLES.small;
  const most = (column - SAMPLE.width - 20) / size;
  const cells = entries.map(({ sample, words }) => ({ sample, lines: wordsInLines(words, most) }));
  const layers: Layer[] = [];
  let top = y;
  for (let at = 0; at < cells.length; at += LEGEND_COLUMNS) {
    const row = cells.slice(at, at + LEGEND_COLUMNS);
    row.forEach(({ sample, lines }, place) => {
      const words = lines.map(
        (line, below): Mark => ({
          look: "small",
          words: line,
          x: SAMPLE.width + 8,
          y: SAMPLE.height / 2 + below * size * 1.3,
          anchor: "start",
          centred: true,
        }),
      );
      layers.push({ x: SIDE + place * column, y: top, box: null, marks: [sample, ...words] });
    });
    top += Math.max(SAMPLE.height + 4, ...row.map(({ lines }) => lines.length * size * 1.3 + 6));
  }
  return { layers, to: top };
}

function eventLines({ events }: TrainTrend): string[] {
  const lines = events
    .slice(0, MOST_EVENTS)
    .map(
      ({ date, words, breaks }, at) =>
        `${eventLetter(at)}  ${date}: ${words}${breaks ? "; a new baseline begins" : ""}`,
    );
  const more = events.length - lines.length;
  return more > 0 ? [...lines, `and ${countedNoun(more, "more event")}, in the table.`] : lines;
}

function limitLines({ baselines, tolerance }: TrainTrend): string[] {
  const last = baselines.at(-1);
  return [
    ...(last ? [`Limits from ${last.from}, ${last.rule}.`] : []),
    `Tolerance ± ${tolerance.percent} % of the baseline’s first factor. ${tolerance.origin}`,
  ];
}

/**
 * The chart of a history as a page of its own: the chart as the window shows it, with its legend, its events and what it
 * says, so that it can be understood where the program is not.
 */
export function trendPicture(trend: TrainTrend, options: TrendPictureOptions): Picture {
  const { view, train, programLine, trailHead } = options;
  const model = trendModel(trend, view.unit);
  const [from, to] = view.days ? [dayOf(view.days.from), dayOf(view.days.to)] : wholeSpan(model);
  const [first, after] = visibleRange(model.days, from, to);
  const title = `Factor of ${train} over time`;
  const head = textBlock("title", [title], SIDE);
  const verdict = textBlock("words", [`${trend.verdict.kind}: ${trend.verdict.why}`], head.to + 4);
  const top = verdict.to + 6;
  const layout = trendLayout(model, { from, to }, WIDTH - 2 * CHART_SIDE, view.withTolerance);
  const chart = trendMarks(model, layout);
  const entries = trendLegend(model, (value) => isOnPlot(layout, value));
  const legend = legendLayers(entries, top + PLOT.height + 6);
  const events = textBlock("small", eventLines(trend), legend.to + 8);
  const shown =
    after - first === trend.points.length
      ? countedNoun(trend.points.length, "calibration")
      : `${after - first} of ${trend.points.length} calibrations`;
  const foot = textBlock(
    "small",
    [
      ...limitLines(trend),
      "Error bars are expanded uncertainties U as each calibration states them.",
      `${shown}, ${dateOfDay(from)} to ${dateOfDay(to)}. Drawn on ${trend.asOf} by ${programLine}.`,
      ...(trailHead === null ? [] : [`${TRAIL_HEAD_LABEL} ${shortHead(trailHead)}.`]),
    ],
    events.to + 6,
  );
  const placed = { x: CHART_SIDE, y: top };
  return {
    width: WIDTH,
    height: Math.ceil(foot.to + SIDE),
    title,
    description: trendSummary(trend),
    layers: [
      { x: 0, y: 0, box: null, marks: [...head.marks, ...verdict.marks] },
      { ...placed, box: null, marks: chart.behind },
      { ...placed, box: chart.box, marks: chart.inside },
      { ...placed, box: null, marks: chart.over },
      ...legend.layers,
      { x: 0, y: 0, box: null, marks: [...events.marks, ...foot.marks] },
    ],
  };
}
