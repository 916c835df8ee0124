import { shortHead, TRAIL_HEAD_LABEL, type TrailHead } from "../contract/records/trail.ts";
import type { SideBySide } from "../contract/records/trend.ts";
import { countedNoun } from "../quantity/counted-noun.ts";
import { wordsInLines } from "./lines-of-words.ts";
import type { Mark, TextLook } from "./mark.ts";
import { TEXT_STYLES } from "./print-looks.ts";
import { commonSpans, SMALL_TREND, smallTrendMarks, smallTrendWords } from "./small-trend.ts";
import type { Layer, Picture } from "./svg-text.ts";

/** What the line at 0 of each history is, by the view. */
export const SIDE_BY_SIDE_LINES = {
  microscope: "its own mean",
  micrometer: "its own mean",
  people: "mean of all people",
} as const;

export interface SideBySideOptions {
  readonly view: keyof typeof SIDE_BY_SIDE_LINES;
  /** The day it is drawn, ISO 8601. */
  readonly asOf: string;
  /** Name and version of the program. */
  readonly programLine: string;
  readonly trailHead: TrailHead | null;
}

const SIDE = 24;
const COLUMNS = 2;
const GAP = 24;
const WIDTH = 2 * SIDE + COLUMNS * SMALL_TREND.width + (COLUMNS - 1) * GAP;

/** Lines of text under each other at `x`, from `y` down. */
function textBlock(
  look: TextLook,
  texts: readonly string[],
  { x, y, room }: { readonly x: number; readonly y: number; readonly room: number },
): { readonly marks: Mark[]; readonly to: number } {
  const { size } = TEXT_STYLES[look];
  const lines = texts.flatMap((text) => wordsInLines(text, room / size));
  const marks = lines.map(
    (words, at): Mark => ({ look, words, x, y: y + size * (1 + at * 1.35), anchor: "start" }),
  );
  return { marks, to: y + lines.length * size * 1.35 };
}

/** Several histories on the same axes as a page of its own, with what they say together; px. */
export function sideBySidePicture(
  { title, series, findings }: SideBySide,
  options: SideBySideOptions,
): Picture {
  const { view, asOf, programLine, trailHead } = options;
  const line = SIDE_BY_SIDE_LINES[view];
  const whole = { x: SIDE, room: WIDTH - 2 * SIDE };
  const head = textBlock("title", [title], { ...whole, y: SIDE });
  const said = textBlock(
    "words",
    findings.map(({ words }) => words),
    { ...whole, y: head.to + 4 },
  );
  const spans = commonSpans(series);
  const layers: Layer[] = [{ x: 0, y: 0, box: null, marks: [...head.marks, ...said.marks] }];
  let top = said.to + 12;
  for (let at = 0; at < series.length; at += COLUMNS) {
    const row = series.slice(at, at + COLUMNS).map((one, place) => {
      const x = SIDE + place * (SMALL_TREND.width + GAP);
      const words = one.verdict ? [`${one.verdict.kind}: ${one.verdict.why}`] : [];
      const named = textBlock("words", [one.title], { x, y: top, room: SMALL_TREND.width });
      const why = textBlock("small", words, { x, y: named.to, room: SMALL_TREND.width });
      return { one, x, marks: [...named.marks, ...why.marks], to: why.to };
    });
    const under = Math.max(...row.map(({ to }) => to)) + 4;
    for (const { one, x, marks } of row) {
      layers.push({ x: 0, y: 0, box: null, marks });
      layers.push({ x, y: under, box: null, marks: smallTrendMarks(one, spans, line) });
    }
    top = under + SMALL_TREND.height + 14;
  }
  const points = series.reduce((sum, one) => sum + one.points.length, 0);
  const foot = textBlock(
    "small",
    [
      `Change from the line at 0, ${line}, with expanded uncertainties U as each calibration states them.`,
      `${countedNoun(points, "calibration")}. Drawn on ${asOf} by ${programLine}.`,
      ...(trailHead === null ? [] : [`${TRAIL_HEAD_LABEL} ${shortHead(trailHead)}.`]),
    ],
    { ...whole, y: top },
  );
  layers.push({ x: 0, y: 0, box: null, marks: foot.marks });
  return {
    width: WIDTH,
    height: Math.ceil(foot.to + SIDE),
    title,
    description: series.map((one) => `${one.title}. ${smallTrendWords(one, line)}`).join(" "),
    layers,
  };
}
