import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { chiSquaredUpperP } from "../../statistics/distributions.ts";
import { type GrubbsSide, grubbs, grubbsCritical } from "../../statistics/grubbs.ts";
import { mean, sumOfSquaredDeviations } from "../../statistics/sample.ts";
import { summarise } from "../../statistics/summary.ts";
import { NO_SOURCE } from "../../vocabulary/literature.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

const VENUS = decimals("-1.40 -0.44 -0.30 -0.24 -0.22 -0.13 -0.05 0.06 0.10 0.18 0.20 0.39 0.48 0.63 1.01");
const FIELDS = decimals("35 41 37 47 43 45 70 46 40 29");

/** `n:5 %/1 %` per entry, as the tables are laid out. */
const TWO_SIDED = `3:1.1543/1.1547 4:1.4813/1.4963 5:1.7150/1.7637 6:1.8871/1.9728 7:2.0200/2.1391 8:2.1266/2.2744
  9:2.2150/2.3868 10:2.2900/2.4821 11:2.3547/2.5641 12:2.4116/2.6357 13:2.4620/2.6990 14:2.5073/2.7554
  15:2.5483/2.8061 16:2.5857/2.8521 17:2.6200/2.8940 18:2.6516/2.9325 19:2.6809/2.9680 20:2.7082/3.0008
  25:2.8217/3.1353 30:2.9085/3.2361 40:3.0361/3.3807`;
const ONE_SIDED = `3:1.1531/1.1546 4:1.4625/1.4925 5:1.6714/1.7489 6:1.8221/1.9442 7:1.9381/2.0973 8:2.0317/2.2208
  9:2.1096/2.3231 10:2.1761/2.4097 12:2.2850/2.5494 15:2.4090/2.7049 20:2.5566/2.8838 30:2.7451/3.1029`;

function tableRows(table: string, side: GrubbsSide): CaseRow[] {
  return table.split(/\s+/).flatMap((entry) => {
    const [n = "", pair = ""] = entry.split(":");
    return pair.split("/").map((expected, at): CaseRow => {
      const alpha = at === 0 ? 0.05 : 0.01;
      return {
        what: `n ${n}, ${alpha * 100} %`,
        expected,
        got: () => grubbsCritical(Number(n), alpha, side),
      };
    });
  });
}

const fields = () => grubbs(FIELDS);

function dispersion(): Decimal {
  return sumOfSquaredDeviations(FIELDS).div(mean(FIELDS));
}

/** Grubbs' test on published samples, and its critical values. */
export const OUTLIERS: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "venus",
    "Grubbs 1950 and ASTM E178: semi-diameters of Venus; prints from memory",
    "from memory",
    [
      {
        what: "smallest: T",
        expected: "2.573",
        units: 1,
        got: () => grubbs(VENUS, 0.05, "smallest").statistic,
      },
      { what: "largest: T", expected: "1.80", got: () => grubbs(VENUS, 0.05, "largest").statistic },
      { what: "critical, 5 %", expected: "2.409", got: () => grubbsCritical(15, 0.05, "largest") },
      {
        what: "critical, 2.5 %",
        expected: "2.549",
        units: 1,
        got: () => grubbsCritical(15, 0.025, "largest"),
      },
    ],
  ),
  ...rowsOfCases("venus-full", "Semi-diameters of Venus; results recomputed with 40 digits", "golden", [
    { what: "mean", expected: "0.018", units: "exact", got: () => mean(VENUS) },
    { what: "s", expected: "0.550949829191", got: () => summarise(VENUS).deviation ?? "none" },
    { what: "smallest: T", expected: "2.573737071635", got: () => grubbs(VENUS, 0.05, "smallest").statistic },
    { what: "largest: T", expected: "1.800526921764", got: () => grubbs(VENUS, 0.05, "largest").statistic },
    { what: "critical, 5 %", expected: "2.409038420590", got: () => grubbsCritical(15, 0.05, "largest") },
    { what: "critical, 2.5 %", expected: "2.548307771743", got: () => grubbsCritical(15, 0.025, "largest") },
  ]),
  ...rowsOfCases(
    "grubbs-two-sided",
    "Critical values in the layout of ISO 5725-2:1994 Table 5, recomputed; the three-decimal print agrees, from memory",
    "golden",
    tableRows(TWO_SIDED, "either"),
  ),
  ...rowsOfCases(
    "grubbs-one-sided",
    "Critical values in the layout of ASTM E178, recomputed; the three-decimal print agrees, from memory",
    "golden",
    tableRows(ONE_SIDED, "largest"),
  ),
  ...rowsOfCases(
    "field-counts",
    `${NO_SOURCE}: ten haemocytometer fields with their mean and standard deviation`,
    "common practice",
    [
      { what: "mean", expected: "43", got: () => mean(FIELDS) },
      { what: "s", expected: "11", got: () => summarise(FIELDS).deviation ?? "none" },
      {
        what: "CV, %",
        expected: "25",
        got: () => summarise(FIELDS).coefficientOfVariation?.times(100) ?? "none",
      },
    ],
  ),
  ...rowsOfCases("field-counts-full", "The same counts, results recomputed outside the program", "golden", [
    { what: "mean", expected: "43.3", units: "exact", got: () => mean(FIELDS) },
    { what: "s", expected: "10.8837289361485", got: () => summarise(FIELDS).deviation ?? "none" },
    { what: "G", expected: "2.45320332366", got: () => fields().statistic },
    {
      what: "value flagged",
      expected: "70",
      units: "exact",
      got: () => (fields().flagged ? fields().value : decimal(0)),
    },
    { what: "index of dispersion", expected: "24.621247113164", got: dispersion },
    { what: "p", expected: "0.00341999795594", got: () => chiSquaredUpperP(dispersion().toNumber(), 9) },
  ]),
];
