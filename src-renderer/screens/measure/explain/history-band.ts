import type { SizeRecord } from "#core/contract/records/sheet.ts";
import type { LabelHistory } from "#core/contract/records/sheet-columns.ts";
import { LEAST_HISTORY } from "#core/measurement/size-history.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { roundToSignificant } from "#core/quantity/rounding.ts";
import type { RunningSummary } from "#core/statistics/running-summary.ts";

/** One sample of the band, µm. `low` and `high` bound its spread: the middle 95 %, or mean ± s. */
export interface BandPart {
  readonly n: number;
  readonly least: number;
  readonly low: number;
  readonly middle: number;
  readonly high: number;
  readonly greatest: number;
  readonly words: string;
}

/** Where earlier values of a label lie, and this one among them. */
export interface HistoryBand {
  readonly title: string;
  /** Ends of the drawn scale, µm, with their texts. */
  readonly from: number;
  readonly to: number;
  readonly elsewhere: BandPart | null;
  readonly here: BandPart | null;
  readonly live: { readonly at: number; readonly words: string } | null;
  /** Said where there is nothing to draw, or too little for a flag. */
  readonly note: string | null;
}

const text = (value: Decimal, digits = 3): string => {
  const rounded = roundToSignificant(value, digits);
  return rounded.toFixed(Math.max(0, digits - 1 - rounded.e));
};

function partElsewhere({ n, least, low, median, high, greatest }: LabelHistory): BandPart {
  const shown = [median, low, high, least, greatest].map((one) => text(decimal(one)));
  return {
    n,
    least: Number(least),
    low: Number(low),
    middle: Number(median),
    high: Number(high),
    greatest: Number(greatest),
    words: `n = ${n}, median ${shown[0]}, 95 % in ${shown[1]}–${shown[2]}, all in ${shown[3]}–${shown[4]}`,
  };
}

function partHere(sample: RunningSummary): BandPart {
  const { n, mean, deviation, median, minimum, maximum } = sample.summary();
  const spread = deviation ?? decimal(0);
  const words = [
    `n = ${n}`,
    `median ${text(median)}`,
    ...(deviation ? [`s ${text(deviation, 2)}`] : []),
    `all in ${text(minimum)}–${text(maximum)}`,
  ];
  return {
    n,
    least: minimum.toNumber(),
    low: mean.minus(spread).toNumber(),
    middle: median.toNumber(),
    high: mean.plus(spread).toNumber(),
    greatest: maximum.toNumber(),
    words: words.join(", "),
  };
}

/** Room at both ends, as a share of what is drawn. */
const MARGIN = 0.06;

function ends(parts: readonly BandPart[], live: number | null): readonly [number, number] {
  const values = parts.flatMap((one) => [one.least, one.greatest, one.low, one.high]);
  if (live !== null) values.push(live);
  const from = Math.min(...values);
  const to = Math.max(...values);
  const room = to > from ? (to - from) * MARGIN : Math.abs(to) * MARGIN || 1;
  return [from - room, to + room];
}

function noteOf(stem: string, elsewhere: BandPart | null): string | null {
  if (stem === "") return "A history is kept by label: this row has none with a name.";
  if (!elsewhere) return "No earlier sheet of this method has this label.";
  if (elsewhere.n < LEAST_HISTORY)
    return `${LEAST_HISTORY} earlier values are needed before one is flagged as unusual.`;
  return null;
}

export interface BandOf {
  /** The label without its running number. */
  readonly stem: string;
  /** Name of the dimension. */
  readonly name: string;
  readonly elsewhere: LabelHistory | null;
  readonly here: RunningSummary | null;
  readonly live: SizeRecord | null;
}

/** The band of one label and dimension; its limits are for drawing, so floats do. */
export function historyBand({ stem, name, elsewhere, here, live }: BandOf): HistoryBand {
  const parts = {
    elsewhere: elsewhere && partElsewhere(elsewhere),
    here: stem === "" ? null : here && partHere(here),
  };
  const at = live ? decimal(live.value).toNumber() : null;
  const drawn = [parts.elsewhere, parts.here].filter((one) => one !== null);
  const [from, to] = drawn.length === 0 ? [0, 1] : ends(drawn, at);
  return {
    title: stem === "" ? name : `${stem}, ${name}`,
    from,
    to,
    ...parts,
    live: live && at !== null ? { at, words: live.shownValue } : null,
    note: noteOf(stem, parts.elsewhere),
  };
}

/** The band in one sentence, for who does not see it. */
export function bandWords({ title, elsewhere, here, live, note }: HistoryBand): string {
  return [
    `${title}, µm`,
    ...(elsewhere ? [`on earlier sheets ${elsewhere.words}`] : []),
    ...(here ? [`on this sheet ${here.words}`] : []),
    ...(live && (elsewhere || here) ? [`this row ${live.words}`] : []),
    ...(note ? [note] : []),
  ].join("; ");
}
