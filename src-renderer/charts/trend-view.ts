import type { TrendModel } from "#core/drawing/trend-model.ts";
import { LEAST_DAYS, wholeSpan } from "#core/drawing/trend-span.ts";

/** What part of a history is on screen, and the point that is read out; −1 where there is none. */
export interface TrendView {
  readonly from: number;
  readonly to: number;
  readonly current: number;
}

/** What a key does to the view. */
export type ViewAct =
  | { readonly act: "step"; readonly by: number }
  | { readonly act: "end"; readonly which: "first" | "last" }
  | { readonly act: "zoom"; readonly by: number }
  | { readonly act: "pan"; readonly by: number }
  | { readonly act: "whole" };

const ZOOM = 1.6;
const PAN = 0.25;

/** Keys of the chart, as `KeyboardEvent.key`. */
export function actOfKey(key: string, shift: boolean): ViewAct | null {
  switch (key) {
    case "ArrowLeft":
      return shift ? { act: "pan", by: -1 } : { act: "step", by: -1 };
    case "ArrowRight":
      return shift ? { act: "pan", by: 1 } : { act: "step", by: 1 };
    case "PageUp":
      return { act: "step", by: -10 };
    case "PageDown":
      return { act: "step", by: 10 };
    case "Home":
      return { act: "end", which: "first" };
    case "End":
      return { act: "end", which: "last" };
    case "+":
    case "=":
      return { act: "zoom", by: 1 };
    case "-":
      return { act: "zoom", by: -1 };
    case "0":
      return { act: "whole" };
    default:
      return null;
  }
}

export function wholeView(model: Pick<TrendModel, "days" | "today">): TrendView {
  const [from, to] = wholeSpan(model);
  return { from, to, current: model.days.length - 1 };
}

/** Moves the window, without changing its width, until a day outside it stands a third of the way in. */
function showing(view: TrendView, day: number): TrendView {
  const width = view.to - view.from;
  if (day < view.from) return { ...view, from: day - width / 3, to: day + (2 * width) / 3 };
  if (day > view.to) return { ...view, from: day - (2 * width) / 3, to: day + width / 3 };
  return view;
}

function zoomed(model: Pick<TrendModel, "days" | "today">, view: TrendView, by: number): TrendView {
  const [first, last] = wholeSpan(model);
  const width = Math.min(last - first, Math.max(LEAST_DAYS, (view.to - view.from) * ZOOM ** -by));
  const centre = model.days[view.current] ?? (view.from + view.to) / 2;
  const share = Math.min(1, Math.max(0, (centre - view.from) / (view.to - view.from)));
  const from = Math.min(Math.max(first, centre - share * width), last - width);
  return { ...view, from, to: from + width };
}

/** The view after a key. A step beyond the window takes the window along; a pan stops at the ends of the history. */
export function viewAfter(
  model: Pick<TrendModel, "days" | "today">,
  view: TrendView,
  key: ViewAct,
): TrendView {
  const { days } = model;
  switch (key.act) {
    case "step":
    case "end": {
      if (days.length === 0) return view;
      const wanted =
        key.act === "end" ? (key.which === "first" ? 0 : days.length - 1) : view.current + key.by;
      const current = Math.min(days.length - 1, Math.max(0, wanted));
      return showing({ ...view, current }, days[current] ?? view.from);
    }
    case "zoom":
      return zoomed(model, view, key.by);
    case "pan": {
      const [first, last] = wholeSpan(model);
      const width = view.to - view.from;
      const from = Math.min(last - width, Math.max(first, view.from + key.by * PAN * width));
      return { ...view, from, to: from + width };
    }
    case "whole":
      return { ...wholeView(model), current: view.current };
  }
}
