import type { MethodDefinition } from "#core/contract/records/method.ts";
import { reportString } from "#core/measurement/report-string.ts";
import type { Decimal } from "#core/quantity/decimal.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { trueMinus } from "#core/quantity/printed-number.ts";
import { formatToPlaces, reportWithUncertainty, roundToSignificant } from "#core/quantity/rounding.ts";
import { roundWidth } from "#core/statistics/round-width.ts";
import type { RunningSummary } from "#core/statistics/running-summary.ts";
import { specimensStillNeeded } from "#core/statistics/sample-size.ts";
import type { SheetSummary } from "./sheet-summary.ts";
import { uncertaintyOfMean } from "./uncertainty-of-mean.ts";

/** One class [from, to) of the picture, limits in µm. */
export interface LiveBar {
  readonly from: string;
  readonly to: string;
  readonly count: number;
}

/** What the panel shows of one sample, as text; null where there is nothing to say yet. */
export interface LiveFigures {
  readonly n: number;
  readonly mean: string;
  readonly s: string | null;
  /** %, without the sign. */
  readonly cv: string | null;
  readonly range: string;
  /** Lower, median, upper. */
  readonly percentiles: readonly [string, string, string];
  /** 95 % interval of the mean: sampling only. */
  readonly interval: string | null;
  /** Mean ± U as a length, as in the report; null while it cannot be told. */
  readonly meanWithU: string | null;
  /** Specimens still needed for the half-width wanted; null when that cannot be told yet. */
  readonly more: number | null;
  readonly bars: readonly LiveBar[];
}

/** A report string of more specimens than this is left to the report itself. */
export const MOST_REPORTED = 2000;

/** Half-width wanted of the mean as a share of it; null for text that is no such number. */
export function wantedShare(percent: string): Decimal | null {
  try {
    const { value } = readDecimal("wanted", percent);
    return value.greaterThan(0) && value.lessThanOrEqualTo(100) ? value.div(100) : null;
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

function stillNeeded(
  { n, mean, deviation }: { n: number; mean: Decimal; deviation: Decimal | null },
  wanted: Decimal | null,
): number | null {
  if (deviation === null || wanted === null || mean.isZero()) return null;
  try {
    return specimensStillNeeded(n, mean, deviation, wanted);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** Most classes of the picture. */
const MOST_BARS = 12;

/**
 * Classes of rounded width between the least and the greatest value, their number by Sturges 1926 (J. American
 * Statistical Association 21:65); counted in the ordered sample, not by going through it.
 */
export function liveBars(sample: RunningSummary, least: Decimal, greatest: Decimal): readonly LiveBar[] {
  if (sample.n < 2 || !greatest.greaterThan(least)) return [];
  const wanted = Math.min(MOST_BARS, Math.ceil(Math.log2(sample.n) + 1));
  const width = roundWidth(greatest.minus(least).div(wanted));
  const bars: LiveBar[] = [];
  let from = least.div(width).floor().times(width);
  let below = 0;
  while (!from.greaterThan(greatest)) {
    const to = from.plus(width);
    const upTo = sample.countBelow(to);
    bars.push({ from: from.toFixed(), to: to.toFixed(), count: upTo - below });
    below = upTo;
    from = to;
  }
  return bars;
}

function shownWithU(mean: Decimal, expanded: Decimal, rounding: MethodDefinition["rounding"]): string {
  const { value, uncertainty } = reportWithUncertainty(mean, expanded, rounding);
  return `${trueMinus(value)} ± ${uncertainty}`;
}

/** The figures of one sample. `wanted` is a share of the mean, `expanded` U of the mean, µm. */
export function liveFigures(
  sample: RunningSummary,
  { percentiles, rounding }: Pick<MethodDefinition, "percentiles" | "rounding">,
  wanted: Decimal | null,
  expanded: Decimal | null = null,
): LiveFigures {
  const summary = sample.summary();
  const { n, mean, deviation, meanInterval, coefficientOfVariation } = summary;
  const shown = deviation && !deviation.isZero() ? reportWithUncertainty(mean, deviation, rounding) : null;
  const places = (shown?.value ?? roundToSignificant(mean, 4, rounding).toFixed()).split(".")[1]?.length ?? 0;
  const text = (value: Decimal): string => trueMinus(formatToPlaces(value, places, rounding));
  const at = (percent: string): string =>
    text(sample.percentile(readDecimal("percentile", percent).value.div(100), percentiles.type).value);
  return {
    n,
    mean: text(mean),
    s: deviation && (shown?.uncertainty ?? "0"),
    cv: coefficientOfVariation && formatToPlaces(coefficientOfVariation.times(100), 1, rounding),
    range: `${text(summary.minimum)}–${text(summary.maximum)}`,
    percentiles: [at(percentiles.lower), at("50"), at(percentiles.upper)],
    interval: meanInterval && `${text(meanInterval.lower)}–${text(meanInterval.upper)}`,
    meanWithU: expanded && shownWithU(mean, expanded, rounding),
    more: stillNeeded(summary, wanted),
    bars: liveBars(sample, summary.minimum, summary.maximum),
  };
}

/** The report string of a label (null: of all rows), or why there is none; null when the method has none. */
export function liveReport(
  summary: SheetSummary,
  label: string | null,
  definition: MethodDefinition,
): string | null {
  if (definition.report.kind === "none") return null;
  if (summary.count(label) > MOST_REPORTED) {
    return `More than ${MOST_REPORTED.toLocaleString("en-GB")} specimens: see the report of the sheet.`;
  }
  const [first] = definition.dimensions;
  const expanded =
    first && definition.report.kind === "grain size number"
      ? uncertaintyOfMean(summary, { dimension: first.key, label }, definition)
      : null;
  return reportString(summary.objects(label), definition, expanded);
}
