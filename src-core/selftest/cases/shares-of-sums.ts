import { shareBesideSum, shareInSum } from "../../counting/intervals/share-of-sum.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { rowsOfCases } from "../rows-of-cases.ts";

const BINOM_TEST =
  "R Core Team: stats, binom.test (R 4.2.2), Examples: 682 of 925 plants (W. J. Conover: Practical Nonparametric Statistics (1971), 97)";
const BETA =
  "C. J. Clopper and E. S. Pearson: The use of confidence or fiducial limits (1934), Biometrika 26, 404; quantiles of the beta distribution by SciPy 1.17";
const RATIO =
  "Counts of the documented example of R's poisson.test, equal exposures; quantiles by SciPy 1.17";

const inSum = () => shareInSum(682, 925);
const half = () => shareInSum(12.5, 120.5);
const beside = () => shareBesideSum(11, 21);

/** Percentages of a sum with exact limits, inside it and beside it. */
export const SHARES_OF_SUMS: readonly ReferenceCase[] = [
  ...rowsOfCases("share-of-sum-printed", BINOM_TEST, "from memory", [
    { what: "682 of 925, share", expected: "0.7372973", got: () => inSum().proportion },
    { what: "682 of 925, lower 95 % limit", expected: "0.7076683", got: () => inSum().lower },
    { what: "682 of 925, upper 95 % limit", expected: "0.7654066", got: () => inSum().upper },
  ]),
  ...rowsOfCases("share-of-sum-half", BETA, "golden", [
    { what: "12.5 of 120.5, lower 95 % limit", expected: "0.055602692898", got: () => half().lower },
    { what: "12.5 of 120.5, upper 95 % limit", expected: "0.172468397658", got: () => half().upper },
  ]),
  ...rowsOfCases("share-beside-sum", RATIO, "golden", [
    {
      what: "11 beside a sum of 21, lower 95 % limit",
      expected: "0.2280774236843",
      got: () => beside().lower,
    },
    {
      what: "11 beside a sum of 21, upper 95 % limit",
      expected: "1.1364373148201",
      got: () => beside().upper,
    },
  ]),
];
