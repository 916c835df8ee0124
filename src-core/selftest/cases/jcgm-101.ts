import { decimal } from "../../quantity/decimal.ts";
import { xoshiro128 } from "../../uncertainty/chance-generator.ts";
import { numericalTolerance } from "../../uncertainty/interval-validation.ts";
import { JCGM_101 } from "../../vocabulary/literature.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { rowsOfCases } from "../rows-of-cases.ts";

/** JCGM 101:2008 7.9.2, the examples of a numerical tolerance δ. */
export const NUMERICAL_TOLERANCES: readonly ReferenceCase[] = rowsOfCases(
  "jcgm101-tolerance",
  `${JCGM_101}, 7.9.2, examples 1 to 3, recalled`,
  "from memory",
  [
    {
      what: "δ of u = 0.000 35 g, two digits, g",
      expected: "0.000005",
      units: "exact",
      got: () => decimal(numericalTolerance(0.00035)),
    },
    {
      what: "δ of u = 0.000 4 g, one digit, g",
      expected: "0.00005",
      units: "exact",
      got: () => decimal(numericalTolerance(0.0004, 1)),
    },
    {
      what: "δ of u = 2 K, one digit, K",
      expected: "0.5",
      units: "exact",
      got: () => decimal(numericalTolerance(2, 1)),
    },
  ],
);

/** The first ten numbers from the state 1, 2, 3, 4, as the authors' own C code gives it. */
export const GENERATOR_NUMBERS: readonly ReferenceCase[] = rowsOfCases(
  "xoshiro128",
  "D. Blackman and S. Vigna: Scrambled linear pseudorandom number generators (2021), ACM Trans. Math. Softw. 47(4), 36; by the authors' C code",
  "golden",
  [
    {
      what: "xoshiro128** from the state 1, 2, 3, 4, first numbers",
      expected: "11520 0 5927040 70819200 2031721883 1637235492 1287239034 3734860849 3729100597 4258142804",
      units: "exact",
      got: () => {
        const next = xoshiro128([1, 2, 3, 4]);
        return Array.from({ length: 10 }, next).join(" ");
      },
    },
  ],
);
