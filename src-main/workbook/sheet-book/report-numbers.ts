import type { MethodDefinition } from "#core/contract/records/method.ts";
import type { ReportedObject } from "#core/measurement/report-string.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { percentile } from "#core/statistics/percentile.ts";
import { mean, memberAt, sorted, standardDeviation } from "#core/statistics/sample.ts";

export const STATS = ["mean", "s", "least", "lower", "upper", "greatest"] as const;
export type Stat = (typeof STATS)[number];
/** The first dimension, the second, and their ratio. */
export type PairQuantity = "first" | "second" | "ratio";
export interface PairNumber {
  readonly of: PairQuantity;
  readonly stat: Stat;
}

const every = (of: PairQuantity, stats: readonly Stat[]): PairNumber[] => stats.map((stat) => ({ of, stat }));
const QUANTITIES = ["first", "second", "ratio"] as const;

/** The numbers that a report string of pairs is made of; none for the other kinds. */
export function pairNumbersOf(kind: MethodDefinition["report"]["kind"]): readonly PairNumber[] {
  if (kind === "pollen P and E") {
    return QUANTITIES.flatMap((of) => every(of, ["mean", "s", "least", "greatest"]));
  }
  if (kind !== "spore notation") return [];
  return [
    ...QUANTITIES.flatMap((of) => every(of, ["least", "lower", "upper", "greatest"])),
    { of: "ratio", stat: "mean" },
  ];
}

/** The sizes of the objects that have both of the first two dimensions above zero, as `reportString` takes them. */
export function pairsOf(
  objects: readonly ReportedObject[],
  { dimensions: [first, second] }: MethodDefinition,
): Readonly<Record<PairQuantity, readonly Decimal[]>> {
  const pairs = objects.flatMap((object) => {
    const [a, b] = [object[first?.key ?? ""], object[second?.key ?? ""]];
    return a?.greaterThan(0) && b?.greaterThan(0) ? [{ a, b }] : [];
  });
  return {
    first: pairs.map(({ a }) => a),
    second: pairs.map(({ b }) => b),
    ratio: pairs.map(({ a, b }) => a.div(b)),
  };
}

/** One number of a sample; null where it has too few values. */
export function statOf(
  values: readonly Decimal[],
  stat: Stat,
  { percentiles }: MethodDefinition,
): number | null {
  if (values.length === 0) return null;
  if (stat === "mean") return mean(values).toNumber();
  if (stat === "s") return values.length < 2 ? null : standardDeviation(values).toNumber();
  if (stat === "lower" || stat === "upper") {
    const share = readDecimal(`percentiles.${stat}`, percentiles[stat]).value.div(100);
    return percentile(values, decimal(share), percentiles.type).value.toNumber();
  }
  const rising = sorted(values);
  return memberAt(rising, stat === "least" ? 0 : rising.length - 1).toNumber();
}
