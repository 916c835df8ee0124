import { classify, wordsOf } from "../../methods/class-table.ts";
import { quotientStatistics, sporeVolume } from "../../methods/spore-quotient.ts";
import { SPORE_QUOTIENT_CLASSES } from "../../methods/spore-quotient-classes.ts";
import { DEFAULT_SPORE_STRING, sporeString } from "../../methods/spore-string.ts";
import { decimal } from "../../quantity/decimal.ts";
import { type PercentileType, percentile } from "../../statistics/percentile.ts";
import { mean, standardDeviation } from "../../statistics/sample.ts";
import { NO_SOURCE, TULLOSS_LINDGREN } from "../../vocabulary/literature.ts";
import { SPORE_LENGTHS, SPORE_WIDTHS, TWENTY_SPORES } from "../data/twenty-spores.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

const statistics = () => quotientStatistics(TWENTY_SPORES);
const SAMPLES = { L: () => SPORE_LENGTHS, W: () => SPORE_WIDTHS, Q: () => statistics().quotients } as const;

function row(what: string, expected: string, got: CaseRow["got"], units: number | "exact" = 1): CaseRow {
  return { what, expected, got, units };
}

/** 5, 10, 50, 90 and 95 % of L, W and Q. */
const PERCENTILES: readonly (readonly [
  sample: keyof typeof SAMPLES,
  type: PercentileType,
  values: string,
])[] = [
  ["L", 7, "8.385 8.58 9.2 10.03 10.33"],
  ["W", 7, "5.595 5.78 6.15 6.51 6.61"],
  ["Q", 7, "1.4457738095238095 1.4480911330049262 1.5116741182314952 1.5657342657342657 1.585531674208145"],
  ["L", 6, "8.115 8.42 9.2 10.27 10.87"],
  ["W", 6, "5.505 5.62 6.15 6.59 6.79"],
  ["Q", 6, "1.4339880952380952 1.4466133004926107 1.5116741182314952 1.5825174825174826 1.6020248868778282"],
];

function percentileRows([sample, type, values]: (typeof PERCENTILES)[number]): CaseRow[] {
  return values.split(" ").map((expected, index) => {
    const share = ["0.05", "0.1", "0.5", "0.9", "0.95"][index] ?? "0.5";
    return row(
      `20 spores: ${sample} percentile ${share}, type ${type}`,
      expected,
      () => percentile(SAMPLES[sample](), decimal(share), type).value,
      5,
    );
  });
}

/** Common practice, no source. */
const INNER_80 = { ...DEFAULT_SPORE_STRING, lowerPercentile: 10, upperPercentile: 90 };

export const SPORE_NOTATION: readonly ReferenceCase[] = [
  ...rowsOfCases("spores", "Invented spores; computed in double precision", "golden", [
    row("spore of 5.2 × 4.0 µm: volume, µm³", "43.56341812977846", () =>
      sporeVolume({ length: decimal("5.2"), width: decimal("4.0") }),
    ),
    row("20 spores: mean length, µm", "9.27", () => mean(SPORE_LENGTHS), "exact"),
    row("20 spores: s of length", "0.6673592893281937", () => standardDeviation(SPORE_LENGTHS), 10),
    row("20 spores: mean width, µm", "6.155", () => mean(SPORE_WIDTHS), "exact"),
    row("20 spores: s of width", "0.331622804117157", () => standardDeviation(SPORE_WIDTHS), 1),
    row("20 spores: mean of Q", "1.5053002592666436", () => statistics().mean, 5),
    row("20 spores: s of Q", "0.04905606556320526", () => statistics().deviation ?? "", 5),
    row("20 spores: least Q", "1.4333333333333333", () => statistics().minimum),
    row("20 spores: greatest Q", "1.6029411764705883", () => statistics().maximum, 2),
    row("20 spores: ratio of the means", "1.5060926076360686", () => statistics().ratioOfMeans, 5),
    ...PERCENTILES.flatMap(percentileRows),
  ]),
  ...rowsOfCases("spore-string", `Notation of ${TULLOSS_LINDGREN}; invented spores`, "golden", [
    row(
      "20 spores, 5–95 %, type 7",
      "(8.1–) 8.4–10.3 (–10.9) × (5.5–) 5.6–6.6 (–6.8) µm, Q = (1.43–) 1.45–1.59 (–1.60), Qm = 1.51, n = 20, inner range 5–95 %",
      () => sporeString(TWENTY_SPORES),
      "exact",
    ),
    row(
      "20 spores, 10–90 %, type 7",
      "(8.1–) 8.6–10.0 (–10.9) × (5.5–) 5.8–6.5 (–6.8) µm, Q = (1.43–) 1.45–1.57 (–1.60), Qm = 1.51, n = 20, inner range 10–90 %",
      () => sporeString(TWENTY_SPORES, INNER_80),
      "exact",
    ),
  ]),
  ...rowsOfCases(
    "spore-volume",
    `${NO_SOURCE}: volume of a mean spore of 5.2 × 4.0 µm given as 43 µm³ (cut, not rounded)`,
    "common practice",
    [
      row(
        "5.2 × 4.0 µm, as printed",
        "43",
        () => sporeVolume({ length: decimal("5.2"), width: decimal("4.0") }),
        1,
      ),
    ],
  ),
];

/** Q in the middle of each class and at its odd places. */
const QUOTIENTS = [
  ["1.00", "spherical"],
  ["1.005", "between spherical and globose: the source names no class here"],
  ["1.03", "globose"],
  ["1.05", "on the limit between globose and subglobose"],
  ["1.10", "subglobose"],
  ["1.20", "broadly ellipsoid"],
  ["1.45", "ellipsoid"],
  ["1.80", "oblong"],
  ["2.50", "cylindrical"],
  ["3.00", "cylindrical"],
  ["3.01", "bacilliform"],
] as const;

export const BAS_CLASSES: readonly ReferenceCase[] = rowsOfCases(
  "bas-quotient",
  SPORE_QUOTIENT_CLASSES.source,
  "from memory",
  QUOTIENTS.map(([q, name]) =>
    row(`Q = ${q}`, name, () => wordsOf(classify(decimal(q), SPORE_QUOTIENT_CLASSES)), "exact"),
  ),
);
