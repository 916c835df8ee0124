import { otherFactorHint } from "#core/measurement/flags.ts";
import { bandOfBins, sizeBin, sizeHistoryOf } from "#core/measurement/size-history.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { apartValues, isApart, momentsOf } from "#core/statistics/apart-values.ts";
import { normalFrom } from "./seeded-normal.ts";
import { uniformFrom } from "./simulated-fields.ts";

/*
 * Sizes of one label with a known truth, all inputs invented: about 13 div through one objective, spread as a normal or
 * a log-normal label, read to a tenth of a division.
 */
const USUAL = 13;
const READ_TO = 0.1;

export interface Population {
  readonly name: string;
  readonly shape: "normal" | "log-normal";
  /** s over the mean, or s of the logarithms. */
  readonly spread: number;
}

export const POPULATIONS: readonly Population[] = [
  { name: "normal, CV 5 %", shape: "normal", spread: 0.05 },
  { name: "normal, CV 15 %", shape: "normal", spread: 0.15 },
  { name: "normal, CV 25 %", shape: "normal", spread: 0.25 },
  { name: "log-normal, s 0.1", shape: "log-normal", spread: 0.1 },
  { name: "log-normal, s 0.3", shape: "log-normal", spread: 0.3 },
  { name: "log-normal, s 0.5", shape: "log-normal", spread: 0.5 },
];

/** Divisions as a person reads them. */
export function divisionsOf({ shape, spread }: Population, n: number, seed: number): number[] {
  const normal = normalFrom(seed);
  return Array.from({ length: n }, () => {
    const z = normal();
    const size = shape === "normal" ? USUAL * (1 + spread * z) : USUAL * Math.exp(spread * z);
    return Math.max(READ_TO, Math.round(size / READ_TO) * READ_TO);
  });
}

/** u of a pair of readings to a tenth of a division that scatter by 0.2 div. */
const FLOOR = 0.2;

const apartIn = (values: readonly number[]) => apartValues(momentsOf(values), FLOOR);

export interface FalseRates {
  /** Labels with at least one value set apart, values set apart, and labels in which one ever was while they grew. */
  readonly labels: number;
  readonly values: number;
  readonly ever: number;
}

/** How often nothing is wrong and something is said all the same. */
export function falseRates(population: Population, n: number, seeds: number): FalseRates {
  let labels = 0;
  let values = 0;
  let ever = 0;
  for (let seed = 1; seed <= seeds; seed += 1) {
    const sample = divisionsOf(population, n, seed * 101 + n);
    const { count } = apartIn(sample);
    values += count;
    if (count > 0) labels += 1;
    if (sample.some((_, at) => apartIn(sample.slice(0, at + 1)).count > 0)) ever += 1;
  }
  return { labels: labels / seeds, values: values / seeds / n, ever: ever / seeds };
}

export interface Mistake {
  readonly name: string;
  /** What is converted as divisions in place of the true ones. */
  readonly of: (divisions: number) => number;
}

export const MISTAKES: readonly Mistake[] = [
  { name: "100× entered as 40× (2.5 times)", of: (divisions) => divisions * 2.5 },
  { name: "40× entered as 100× (0.4 times)", of: (divisions) => divisions / 2.5 },
  { name: "digits swapped (13 → 31)", of: (divisions) => (divisions % 10) * 10 + Math.floor(divisions / 10) },
  { name: "decimal mark lost (13.2 → 132)", of: (divisions) => divisions * 10 },
  { name: "ten divisions too many", of: (divisions) => divisions + 10 },
  { name: "ten divisions too few", of: (divisions) => Math.max(READ_TO, divisions - 10) },
];

/** How often `wrong` mistaken values among `n` are all set apart, and nothing else is. */
export function powerOf(
  population: Population,
  mistake: Mistake,
  n: number,
  seeds: number,
  wrong = 1,
): { readonly found: number; readonly others: number } {
  let found = 0;
  let others = 0;
  for (let seed = 1; seed <= seeds; seed += 1) {
    const sample = divisionsOf(population, n, seed * 103 + n);
    const mistaken = sample.slice(0, wrong).map(mistake.of);
    const rest = sample.slice(wrong);
    const apart = apartIn([...mistaken, ...rest]);
    if (mistaken.every((value) => isApart(value, apart))) found += 1;
    if (rest.some((value) => isApart(value, apart))) others += 1;
  }
  return { found: found / seeds, others: others / seeds };
}

/** How often one value is set apart among `n` evenly spread over 12 to 14 div. */
export function foundAmongEven(odd: number, n: number, seeds: number): number {
  let found = 0;
  for (let seed = 1; seed <= seeds; seed += 1) {
    const uniform = uniformFrom(seed * 109 + n);
    const others = Array.from({ length: n }, () => Math.round((12 + 2 * uniform()) / READ_TO) * READ_TO);
    if (isApart(odd, apartIn([...others, odd]))) found += 1;
  }
  return found / seeds;
}

/** A turret of 10×, 40× and 100×, µm/div; invented. */
const FORTY = decimal("2.513");
const OTHERS = [
  { name: "10×", factor: decimal("10.06") },
  { name: "100×", factor: decimal("1.008") },
];

/** How often another objective is named for a right value of the 40×, and for one read with the 100×. */
export function hintRates(
  population: Population,
  n: number,
  seeds: number,
): { readonly without: number; readonly named: number } {
  let without = 0;
  let named = 0;
  for (let seed = 1; seed <= seeds; seed += 1) {
    const sizes = divisionsOf(population, n + 1, seed * 107 + n).map((one) => FORTY.times(one));
    const bins = new Map<number, number>();
    for (const size of sizes.slice(1)) {
      const bin = sizeBin(size) ?? 0;
      bins.set(bin, (bins.get(bin) ?? 0) + 1);
    }
    const sorted = [...bins].sort(([a], [b]) => a - b).map(([bin, count]) => ({ bin, n: count }));
    const history = sizeHistoryOf({ label: "", dimension: "", ...bandOfBins(sorted) } as never);
    const size = sizes[0];
    if (!history || !size) continue;
    const hintOf = (value: typeof size) =>
      otherFactorHint(
        {
          size: value,
          factor: FORTY,
          history,
          usual: { median: history.median, n, where: "on other sheets" },
        },
        OTHERS,
      );
    if (hintOf(size)) without += 1;
    if (hintOf(size.times("2.513").div("1.008"))?.name === "100×") named += 1;
  }
  return { without: without / seeds, named: named / seeds };
}
