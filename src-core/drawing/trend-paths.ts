import type { TrendModel } from "./trend-model.ts";

export type Place = (value: number) => number;

/** A coordinate to a tenth: finer is not seen. */
export const one = (value: number): string => (Math.round(value * 10) / 10).toString();

/** Outlines about a point; the shape tells the person. All are closed, so that they can be filled. */
const SHAPES: readonly ((x: number, y: number, r: number) => string)[] = [
  (x, y, r) => `M${one(x - r)} ${one(y)}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`,
  (x, y, r) => `M${one(x - r)} ${one(y - r)}h${2 * r}v${2 * r}h${-2 * r}Z`,
  (x, y, r) => `M${one(x)} ${one(y - 1.3 * r)}l${1.2 * r} ${2.1 * r}h${-2.4 * r}Z`,
  (x, y, r) =>
    `M${one(x)} ${one(y - 1.35 * r)}l${1.35 * r} ${1.35 * r}l${-1.35 * r} ${1.35 * r}l${-1.35 * r} ${-1.35 * r}Z`,
  (x, y, r) => `M${one(x)} ${one(y + 1.3 * r)}l${1.2 * r} ${-2.1 * r}h${-2.4 * r}Z`,
  (x, y, r) => `M${one(x - 1.4 * r)} ${one(y - r / 2)}h${2.8 * r}v${r}h${-2.8 * r}Z`,
];
/** Words for the shapes, in their order, for the legend of a screen reader. */
export const SHAPE_WORDS = ["circle", "square", "triangle", "diamond", "triangle downwards", "bar"] as const;

export function shapePath(shape: number, x: number, y: number, r: number): string {
  return SHAPES[shape % SHAPES.length]?.(x, y, r) ?? "";
}

/** All error bars as one path: drawing thousands of elements is what makes a chart slow. */
export function errorBarPath(
  model: TrendModel,
  range: readonly [number, number],
  x: Place,
  y: Place,
): string {
  const cap = range[1] - range[0] > 300 ? 0 : 3;
  let path = "";
  for (let at = range[0]; at < range[1]; at += 1) {
    const [value, half] = [model.values[at] ?? 0, model.halves[at] ?? 0];
    const px = one(x(model.days[at] ?? 0));
    const [low, high] = [one(y(value - half)), one(y(value + half))];
    path += cap === 0 ? `M${px} ${low}V${high}` : `M${px} ${low}V${high}m-3 0h6M${Number(px) - 3} ${low}h6`;
  }
  return path;
}

/** The marks of each kind as one path. Values that do not count are left to `leftOutPath`. */
export function markPaths(
  model: TrendModel,
  range: readonly [number, number],
  x: Place,
  y: Place,
): readonly string[] {
  const r = range[1] - range[0] > 300 ? 2 : 4.5;
  const paths = model.kinds.map(() => "");
  for (let at = range[0]; at < range[1]; at += 1) {
    if (!model.counts[at]) continue;
    const kind = model.kindOf[at] ?? 0;
    const shape = model.kinds[kind]?.shape ?? 0;
    paths[kind] += shapePath(shape, x(model.days[at] ?? 0), y(model.values[at] ?? 0), r);
  }
  return paths;
}

/** Crosses for withdrawn values and those apart from both neighbours. */
export function leftOutPath(model: TrendModel, range: readonly [number, number], x: Place, y: Place): string {
  let path = "";
  for (let at = range[0]; at < range[1]; at += 1) {
    if (model.counts[at]) continue;
    path += `M${one(x(model.days[at] ?? 0) - 5)} ${one(y(model.values[at] ?? 0) - 5)}l10 10m-10 0l10 -10`;
  }
  return path;
}

/** Rings about the points at which a rule fires, as one path. */
export function ringPath(model: TrendModel, range: readonly [number, number], x: Place, y: Place): string {
  let path = "";
  for (let at = range[0]; at < range[1]; at += 1) {
    if (model.rules[at]) path += shapePath(0, x(model.days[at] ?? 0), y(model.values[at] ?? 0), 9);
  }
  return path;
}

/** More points than this in view are drawn by the pixel: their shapes could not be told apart anyhow. */
const DENSE = 600;
/** Width of a column of pixels; a dot is twice as wide. */
const COLUMN = 2;

/** Whether so many points are in view, from one place to before another. */
export function isDense([from, to]: readonly [number, number]): boolean {
  return to - from > DENSE;
}

export interface DensePaths {
  /** From the lowest to the highest end of the error bars in each column of pixels. */
  readonly bars: string;
  /** Dots at the lowest and highest value of each column; drawn by round line ends. */
  readonly dots: string;
  /** A tick at the top of each column in which a rule fires. */
  readonly fired: string;
}

/** Thousands of points as one path each, at most one stroke per column of pixels; nothing that stands out is lost. */
export function densePaths(
  model: TrendModel,
  range: readonly [number, number],
  x: Place,
  y: Place,
  top: number,
): DensePaths {
  let [bars, dots, fired] = ["", "", ""];
  let column = Number.NaN;
  let [low, high, least, most, rule] = [0, 0, 0, 0, false];
  const flush = (): void => {
    if (Number.isNaN(column)) return;
    bars += `M${column} ${Math.round(y(low))}V${Math.round(y(high))}`;
    dots += `M${column} ${Math.round(y(least))}h0${least === most ? "" : `M${column} ${Math.round(y(most))}h0`}`;
    if (rule) fired += `M${column} ${top}v6`;
  };
  for (let at = range[0]; at < range[1]; at += 1) {
    if (!model.counts[at]) continue;
    const px = Math.round(x(model.days[at] ?? 0) / COLUMN) * COLUMN;
    const [value, half] = [model.values[at] ?? 0, model.halves[at] ?? 0];
    if (px !== column) {
      flush();
      [column, low, high, least, most, rule] = [px, value - half, value + half, value, value, false];
    }
    low = Math.min(low, value - half);
    high = Math.max(high, value + half);
    least = Math.min(least, value);
    most = Math.max(most, value);
    if (model.rules[at]) rule = true;
  }
  flush();
  return { bars, dots, fired };
}

/** Small crosses for passed checks; larger, leaning ones for failed ones. */
export function checkPath({ checks }: TrendModel, passed: boolean, x: Place, y: Place): string {
  return checks
    .filter((check) => check.passed === passed)
    .map(({ day, value }) => {
      const [px, py] = [x(day), y(value)];
      return passed ? `M${one(px - 3)} ${one(py)}h6m-3 -3v6` : `M${one(px - 4)} ${one(py - 4)}l8 8m-8 0l8 -8`;
    })
    .join("");
}

/** Limits of the vertical axis: every value with its U and every limit in view; the tolerance too when asked. */
export function valueSpan(
  model: TrendModel,
  range: readonly [number, number],
  view: { readonly from: number; readonly to: number },
  withTolerance: boolean,
): readonly [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const add = (value: number): void => {
    low = Math.min(low, value);
    high = Math.max(high, value);
  };
  for (let at = range[0]; at < range[1]; at += 1) {
    add((model.values[at] ?? 0) - (model.halves[at] ?? 0));
    add((model.values[at] ?? 0) + (model.halves[at] ?? 0));
  }
  for (const baseline of model.baselines) {
    if (baseline.toDay < view.from || baseline.fromDay > view.to) continue;
    for (const line of baseline.action.length > 0 ? baseline.action : [baseline.centre]) {
      add(line.from);
      add(line.to);
    }
  }
  if (withTolerance && model.tolerance) {
    add(model.tolerance.lower);
    add(model.tolerance.upper);
    add(model.nominal);
  }
  if (low > high) return [model.nominal - 1, model.nominal + 1];
  const air = Math.max((high - low) * 0.06, Math.abs(high) * 1e-6, 1e-9);
  return [low - air, high + air];
}
