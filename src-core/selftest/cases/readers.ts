import { decimal } from "../../quantity/decimal.ts";
import { twoSidedStudent } from "../../statistics/interval.ts";
import { readerAgreement, readerPrecision } from "../../statistics/reader-agreement.ts";
import { sampleSize } from "../../statistics/sample-size.ts";
import { summarise } from "../../statistics/summary.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

const A = decimals("35.0 22.4 18.1 41.3 27.9 30.2 12.5 25.0 33.3 19.8");
const B = decimals("35.3 22.5 18.0 41.7 28.2 30.1 12.8 25.2 33.5 20.1");
const both = () => readerAgreement(A, B);
const repeats = () => summarise(decimals("35.0 35.2 34.9"));
const microns = () => summarise(decimals("35.0 35.2 34.9").map((divisions) => divisions.times("10.1")));

const agreement: readonly CaseRow[] = [
  { what: "bias", expected: "0.19", units: "exact", got: () => both().bias },
  { what: "s of differences", expected: "0.172884033065200", got: () => both().deviation },
  { what: "lower limit of agreement", expected: "-0.148852704807791", got: () => both().limits.lower },
  { what: "upper limit of agreement", expected: "0.528852704807791", got: () => both().limits.upper },
  { what: "t", expected: "3.47535133684324", got: () => both().t ?? "none" },
  { what: "p", expected: "0.00698956", got: () => both().p },
  { what: "critical t", expected: "2.262157163", got: () => twoSidedStudent(0.95, 9) },
  { what: "technical error, div", expected: "0.177482393492989", got: () => both().technicalError },
  {
    what: "technical error, %",
    expected: "0.6661001820",
    got: () => both().relativeTechnicalError?.times(100) ?? "none",
  },
];

const repeated: readonly CaseRow[] = [
  { what: "mean, div", expected: "35.03333333333333", got: () => repeats().mean },
  { what: "s, div", expected: "0.152752523165195", got: () => repeats().deviation ?? "none" },
  { what: "mean, µm", expected: "353.836666666667", got: () => microns().mean },
  { what: "s, µm", expected: "1.54280048396847", got: () => microns().deviation ?? "none" },
  { what: "standard error, µm", expected: "0.890736274725079", got: () => microns().standardError ?? "none" },
];

const SIZES: readonly (readonly [
  cv: number,
  wanted: number,
  normal: string,
  rounded: string,
  student: string,
])[] = [
  [5, 2, "24.01", "25", "27"],
  [10, 5, "15.3664", "16", "18"],
  [10, 2, "96.04", "97", "99"],
  [15, 5, "34.5744", "35", "38"],
  [20, 5, "61.4656", "62", "64"],
  [20, 10, "15.3664", "16", "18"],
  [30, 5, "138.2976", "139", "141"],
  [50, 10, "96.04", "97", "99"],
];

const sizes = SIZES.flatMap(([cv, wanted, normal, rounded, student]): CaseRow[] => {
  const size = () => sampleSize(decimal(cv), decimal(wanted), 0.95, decimal("1.96"));
  const what = `CV ${cv} %, ± ${wanted} %`;
  return [
    { what: `${what}: (1.96·CV/E)²`, expected: normal, units: "exact", got: () => size().normal },
    { what: `${what}: rounded up`, expected: rounded, units: "exact", got: () => size().normalRounded },
    { what: `${what}: with Student's t`, expected: student, units: "exact", got: () => size().student },
  ];
});

const TURNED = [
  ".125 .127 .125 .126 .128",
  ".118 .122 .120 .124 .119",
  ".123 .125 .125 .124 .126",
  ".126 .128 .126 .127 .129",
  ".118 .129 .127 .120 .121",
].map((row) => decimals(row));

/** Two readers of ten objects, three repeats of one, and how many specimens a mean needs. */
export const READERS: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "reader-agreement",
    "Invented readings; limits by Bland and Altman 1986, technical error by Dahlberg 1940, recomputed",
    "golden",
    agreement,
  ),
  ...rowsOfCases("repeated-reading", "Invented readings; recomputed in double precision", "golden", repeated),
  ...rowsOfCases(
    "sample-size",
    "n = (1.96·CV/E)² and its iteration with Student's t; recomputed",
    "golden",
    sizes,
  ),
  ...rowsOfCases(
    "reader-precision",
    "ISO 5725-2:1994 7.4: the formulas; NIST/SEMATECH e-Handbook 3.2.3.1: the data; worked from its mean squares",
    "golden",
    [
      {
        what: "s_r = √6.6e-6",
        expected: "0.002569046515733026",
        got: () => readerPrecision(TURNED).repeatability,
      },
      {
        what: "s_L = √((34.36e-6 − 6.6e-6)/5)",
        expected: "0.002356268236",
        got: () => readerPrecision(TURNED).betweenReaders,
      },
      {
        what: "s_R = √(s_r² + s_L²)",
        expected: "0.003485971887",
        got: () => readerPrecision(TURNED).reproducibility,
      },
    ],
  ),
];
