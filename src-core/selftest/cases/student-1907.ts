import { dispersionTest } from "../../counting/intervals/dispersion-test.ts";
import { type PoissonFit, poissonFit } from "../../counting/intervals/poisson-fit.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { rowsOfCases, unitsOfLastDigit } from "../rows-of-cases.ts";

const SOURCE =
  "“Student”, Biometrika 5 (1907) 351, yeast cells on 400 squares (data as in the R package HistData, Yeast); statistics computed with R 4.2.2";

/** Squares with 0, 1, 2 … cells. */
const FREQUENCIES = {
  A: [213, 128, 37, 18, 3, 1],
  B: [103, 143, 98, 42, 8, 4, 2],
  C: [75, 103, 121, 54, 30, 13, 2, 1, 0, 1],
  D: [0, 20, 43, 53, 86, 70, 54, 37, 18, 10, 5, 2, 2],
} as const;
type Sample = keyof typeof FREQUENCIES;

function squaresOf(sample: Sample): number[] {
  return FREQUENCIES[sample].flatMap((squares, cells) => Array<number>(squares).fill(cells));
}

/** total, mean, s², s²/x̄, D, upper p and √(2D) − √(2ν − 1). */
const EXPECTED: Readonly<Record<Sample, string>> = {
  A: "273 0.6825 0.813728070175439 1.19227556069661 475.717948717949 0.00490841883905 2.61416612497",
  B: "529 1.3225 1.28671052631579 0.972938016117799 388.202268431002 0.641354928514 -0.367151805168",
  C: "720 1.8 1.96491228070175 1.0916179337232 435.555555555556 0.100281913165 1.283403067919",
  D: "1872 4.68 4.46877192982456 0.95486579697106 380.991452991453 0.733572828751 -0.627150570489",
};

const QUANTITIES: readonly (readonly [name: string, of: (sample: Sample) => number | null])[] = [
  ["total", (sample) => dispersionTest(squaresOf(sample)).total],
  ["mean", (sample) => dispersionTest(squaresOf(sample)).mean],
  ["variance", (sample) => dispersionTest(squaresOf(sample)).variance],
  ["variance over mean", (sample) => dispersionTest(squaresOf(sample)).ratio],
  ["index of dispersion D", (sample) => dispersionTest(squaresOf(sample)).index],
  ["upper p of D", (sample) => dispersionTest(squaresOf(sample)).upperP],
  [
    "normal approximation √(2D) − √(2ν − 1)",
    (sample) => {
      const { index, degreesOfFreedom } = dispersionTest(squaresOf(sample));
      return index === null ? null : Math.sqrt(2 * index) - Math.sqrt(2 * degreesOfFreedom - 1);
    },
  ],
];

export const STUDENT_YEAST: readonly ReferenceCase[] = (["A", "B", "C", "D"] as const).flatMap((sample) => {
  const texts = EXPECTED[sample].split(" ");
  return QUANTITIES.map(([name, of], index): ReferenceCase => {
    const expected = texts[index] ?? "";
    const exact = !expected.includes(".");
    return {
      id: `yeast-${sample.toLowerCase()}-${name.replaceAll(/[^a-zA-Z]+/g, "-").toLowerCase()}`,
      source: SOURCE,
      standing: "golden",
      what: `sample ${sample}: ${name}`,
      expected,
      // The last figures of the difference of roots lose a digit to the subtraction.
      tolerance: exact
        ? "exact"
        : index === 6
          ? unitsOfLastDigit(expected, 0.5)
          : unitsOfLastDigit(expected, 10),
      got: () => of(sample) ?? Number.NaN,
    };
  });
});

const FIT_SOURCE =
  "“Student”, Biometrika 5 (1907) 351, yeast cells on 400 squares; Pearson's χ² computed with SciPy 1.17.1, last class open, classes joined to 5 expected (Student's own joining differs)";

/** Statistic, degrees of freedom, p. */
const FITS: Readonly<Record<Sample, readonly [statistic: string, degrees: string, p: string]>> = {
  A: ["10.036185", "2", "0.006617"],
  B: ["1.365097", "3", "0.713736"],
  C: ["7.236810", "4", "0.123891"],
  D: ["4.388747", "8", "0.820458"],
};

function fitted(sample: Sample, quantity: keyof PoissonFit): number {
  return poissonFit(FREQUENCIES[sample])?.[quantity] ?? Number.NaN;
}

export const STUDENT_FIT: readonly ReferenceCase[] = rowsOfCases(
  "yeast-fit",
  FIT_SOURCE,
  "golden",
  (["A", "B", "C", "D"] as const).flatMap((sample) => {
    const [statistic, degrees, p] = FITS[sample];
    return [
      {
        what: `sample ${sample}: χ² of the Poisson fit`,
        expected: statistic,
        got: () => fitted(sample, "statistic"),
      },
      {
        what: `sample ${sample}: its degrees of freedom`,
        expected: degrees,
        got: () => fitted(sample, "degreesOfFreedom"),
        units: "exact",
      },
      { what: `sample ${sample}: its p`, expected: p, got: () => fitted(sample, "p") },
    ];
  }),
);
