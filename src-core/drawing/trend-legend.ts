import { FILLS, type PathLook, type PathMark } from "./mark.ts";
import type { TrendModel } from "./trend-model.ts";
import { isDense, SHAPE_WORDS, shapePath } from "./trend-paths.ts";

/** Size of the sample before the words. */
export const SAMPLE = { width: 28, height: 18 } as const;

export interface LegendEntry {
  readonly sample: PathMark;
  readonly words: string;
  /** The sample in words, where its shape says something. */
  readonly shape: string | null;
}

const CIRCLE = 0;
const ALONG = "M1 9H27";
const line = (look: PathLook, words: string): LegendEntry => ({
  sample: { look, d: ALONG },
  words,
  shape: null,
});
const sign = (look: PathLook, d: string, words: string): LegendEntry => ({
  sample: { look, d },
  words,
  shape: null,
});

/**
 * What lines and marks mean, of those that are drawn: shapes are people, fillings are micrometers.
 * @param isSeen whether a value lies on the drawing
 */
export function trendLegend(
  model: TrendModel,
  isSeen: (value: number) => boolean = () => true,
): readonly LegendEntry[] {
  const { baselines, tolerance } = model;
  const when = (is: boolean, entry: LegendEntry): LegendEntry[] => (is ? [entry] : []);
  const has = (which: "warning" | "action"): boolean => baselines.some((one) => one[which].length > 0);
  const passed = model.checks.some((check) => check.passed);
  const failed = model.checks.some((check) => !check.passed);
  return [
    ...model.kinds.map(
      ({ person, micrometer, shape, fill }): LegendEntry => ({
        sample: { look: FILLS[fill % FILLS.length] ?? "filled", d: shapePath(shape, 14, 9, 5) },
        words: `${person} with ${micrometer}`,
        shape: SHAPE_WORDS[shape % SHAPE_WORDS.length] ?? null,
      }),
    ),
    ...when(
      isDense([0, model.days.length]),
      sign(
        "dots",
        "M8 5h0M8 13h0M20 5h0M20 13h0",
        "of many in view: the lowest and highest; a tick at the top where a rule fires",
      ),
    ),
    ...when(baselines.length > 0, line("centre", "mean or level of the drift")),
    ...when(model.drift?.established === true, line("drift", "drift line in its 95 % band")),
    ...when(has("warning"), line("warning", "warning limits")),
    ...when(has("action"), line("action", "action limits")),
    ...when(
      tolerance !== null && (isSeen(tolerance.lower) || isSeen(tolerance.upper)),
      line("toleranceEdge", "tolerance"),
    ),
    ...when(tolerance !== null && isSeen(model.nominal), line("nominal", "nominal")),
    ...when(model.breaks.length > 0, line("break", "event, by its letter")),
    ...when(
      model.rules.some((rule) => rule !== ""),
      sign("ring", shapePath(CIRCLE, 14, 9, 7), "a rule fires, named above"),
    ),
    ...when(
      model.counts.some((counts) => !counts),
      sign("leftOut", "M9 4l10 10m-10 0l10 -10", "withdrawn or apart, left out"),
    ),
    ...when(passed, sign("check", "M11 9h6m-3 -3v6", "quick check, passed")),
    ...when(failed, sign("failed", "M10 5l8 8m-8 0l8 -8", "quick check, failed")),
  ];
}
