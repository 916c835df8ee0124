import type { TrainTrend, TrendPoint } from "#core/contract/records/trend.ts";
import { trueMinus } from "#core/quantity/printed-number.ts";

/** A figure with its sign, as many places as asked; `−0.20`, `+1.1`, `0.00`. */
export function signed(value: string | number, places: number): string {
  const text = Number(value).toFixed(places);
  if (Number(text) === 0) return text.replace("-", "");
  return Number(text) > 0 ? `+${text}` : trueMinus(text);
}

/** With a capital where there is a letter to begin with. */
export function startOfSentence(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

/** Change of a factor from the reference, %. */
export function percentFrom(factor: string, reference: string | null): string {
  if (reference === null) return "–";
  return signed((Number(factor) / Number(reference) - 1) * 100, 2);
}

const LEVELS = {
  within: "within limits",
  warning: "beyond a warning limit",
  action: "beyond the limits",
} as const;

export function levelWords(point: TrendPoint): string {
  if (point.state === "withdrawn") return "withdrawn, left out";
  if (!point.counts) return "apart from both neighbours, left out";
  return LEVELS[point.level];
}

export function rulesOf(point: TrendPoint, places: readonly TrendPoint[]): string {
  return point.signals
    .map(({ words, weight, points }) => {
      const dates = points.map((place) => places[place]?.date ?? "").filter((date) => date !== point.date);
      const others = dates.length > 0 ? `, with ${dates.join(", ")}` : "";
      return `${weight === "hint" ? "hint, " : ""}${words}${others}`;
    })
    .join("; ");
}

export function agreementWords(point: TrendPoint): string {
  if (point.normalisedError === null || point.agreement === null) return "–";
  return `${signed(point.normalisedError, 2)}, ${point.agreement}`;
}

/** All there is to a point, in one breath. */
export function pointWords(trend: TrainTrend, place: number): string {
  const point = trend.points[place];
  if (!point) return "No calibration.";
  const rules = rulesOf(point, trend.points);
  const agreement =
    point.normalisedError === null
      ? ""
      : ` E_n ${signed(point.normalisedError, 2)} against the one before: ${point.agreement}.`;
  return (
    `${point.date}: ${point.shownFactor} ± ${point.shownUncertainty} µm/div ` +
    `(${percentFrom(point.factor, trend.reference)} %), ${point.person}, ${point.micrometer}, ` +
    `certificate ${point.certificate}; ${levelWords(point)}.${agreement}${rules ? ` ${startOfSentence(rules)}.` : ""}`
  );
}
