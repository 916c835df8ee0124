import type { Mark } from "./mark.ts";
import {
  type EndLabel,
  isOnPlot,
  PLOT,
  PLOT_BOTTOM,
  spreadLabels,
  type TrendLayout,
} from "./trend-layout.ts";
import type { TrendModel } from "./trend-model.ts";
import { one } from "./trend-paths.ts";

/** Above this, texts at single points would cover each other. */
const MOST_TEXTS = 40;
/** Letters of events nearer than this are joined. */
const FLAG_ROOM = 16;
/** Width of a letter of the rules above the points, at most. */
const LETTER = 8;

/** Events as dashed lines with their letters, those too close to stand apart joined. */
export function breakFlags(model: TrendModel, { x, width }: TrendLayout): Mark[] {
  const shown = model.breaks.filter(({ day }) => x(day) >= PLOT.left && x(day) <= width - PLOT.right);
  const flags: { words: string; px: number; last: number }[] = [];
  for (const { day, letter } of shown.slice(0, MOST_TEXTS)) {
    const before = flags.at(-1);
    const px = x(day);
    if (before && px - before.last < FLAG_ROOM) {
      before.words += ` ${letter}`;
      before.last = px;
    } else flags.push({ words: letter, px, last: px });
  }
  return [
    { look: "break", d: shown.map(({ day }) => `M${one(x(day))} ${PLOT.top + 4}V${PLOT_BOTTOM}`).join("") },
    ...flags.map(({ words, px }): Mark => ({ look: "flag", words, x: px, y: PLOT.top, anchor: "middle" })),
  ];
}

/** `Ada Example` → `AE`. */
function initialsOf(person: string): string {
  return person
    .split(/\s+/)
    .filter((word) => /^\p{L}/u.test(word))
    .map((word) => word.charAt(0))
    .join("")
    .slice(0, 3);
}

/** The rules that fire, above their points; who calibrated, along the foot. */
export function pointTexts(model: TrendModel, layout: TrendLayout): Mark[] {
  const { x, range } = layout;
  const places = Array.from({ length: range[1] - range[0] }, (_, at) => range[0] + at);
  const fired = places.filter((at) => model.rules[at]);
  const room = (layout.width - PLOT.left - PLOT.right) / Math.max(1, places.length);
  const people = places.length <= MOST_TEXTS && room > 22 ? places : [];
  const dayOf = (at: number): number => x(model.days[at] ?? 0);
  return [
    ...(fired.length <= MOST_TEXTS ? ruleTexts(model, layout, fired) : []),
    ...people.map(
      (at): Mark => ({
        look: "person",
        words: initialsOf(model.kinds[model.kindOf[at] ?? 0]?.person ?? ""),
        x: dayOf(at),
        y: PLOT_BOTTOM - 6,
        anchor: "middle",
      }),
    ),
  ];
}

/** A text that would run into the one before it stands a line higher. */
function ruleTexts(model: TrendModel, { x, y }: TrendLayout, fired: readonly number[]): Mark[] {
  const set: { readonly from: number; readonly to: number; readonly y: number }[] = [];
  return fired.map((at): Mark => {
    const words = model.rules[at] ?? "";
    const px = x(model.days[at] ?? 0);
    const half = (words.length * LETTER) / 2;
    let py = y((model.values[at] ?? 0) + (model.halves[at] ?? 0)) - 7;
    const inTheWay = (): boolean =>
      set.some((other) => other.to > px - half && other.from < px + half && Math.abs(other.y - py) < 14);
    while (inTheWay() && py > PLOT.top) py -= 14;
    set.push({ from: px - half, to: px + half, y: py });
    return { look: "rule", words, x: px, y: py, anchor: "middle" };
  });
}

function labelsOf(model: TrendModel, layout: TrendLayout): EndLabel[] {
  const last = model.baselines.at(-1);
  const labels: EndLabel[] = [];
  const add = (words: string, value: number | undefined): void => {
    if (value !== undefined && isOnPlot(layout, value)) labels.push({ words, at: layout.y(value) });
  };
  add(model.drift?.established ? "drift line" : "mean", last?.centre.to);
  for (const line of last?.warning ?? []) add("warning", line.to);
  for (const line of last?.action ?? []) add("action", line.to);
  add("nominal", model.nominal);
  add("tolerance", model.tolerance?.upper);
  add("tolerance", model.tolerance?.lower);
  return labels;
}

/** What the lines are, at their ends; one moved away from its line is led back to it. */
export function endLabels(model: TrendModel, layout: TrendLayout): Mark[] {
  const right = layout.width - PLOT.right;
  const spread = spreadLabels(labelsOf(model, layout), 16, PLOT_BOTTOM);
  return [
    {
      look: "leader",
      d: spread.map(({ y, at }) => `M${right + 2} ${one(at)}L${right + 11} ${one(y)}`).join(""),
    },
    ...spread.map(
      ({ words, y }): Mark => ({ look: "endText", words, x: right + 14, y, anchor: "start", centred: true }),
    ),
  ];
}
