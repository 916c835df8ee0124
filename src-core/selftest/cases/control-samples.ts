import { blankChance, differenceLimit, predictionLimits } from "../../counting/controls/control-limits.ts";
import { objectsFound, recoveryOf, relativeDifference } from "../../counting/controls/recovery.ts";
import { decimal, ONE, ZERO } from "../../quantity/decimal.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { decimals, rowsOfCases } from "../rows-of-cases.ts";

/** `found` of `stated` objects, `before` of them there already, with a relative doubt of what is stated. */
function recovery(found: string, stated: string, before: string | null, relative: string) {
  return recoveryOf(objectsFound(decimal(found), before === null ? null : decimal(before)), {
    value: decimal(stated),
    standardUncertainty: decimal(stated).times(relative),
    portion: ONE,
  });
}

const PAST = decimals("98 102 95 101 99 103");
const DIFFERENCES = decimals("5 -8 12 -3 7 -10");
const BLANKS = [
  { objects: decimal(4), areas: 4 },
  { objects: decimal(6), areas: 4 },
];

/** Recoveries, duplicates and blanks. */
export const CONTROL_SAMPLES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "recovery-garwood",
    "F. Garwood: Fiducial limits for the Poisson distribution (1936), Biometrika 28, 437: 4.795 and 18.39 of 10 objects, of 20 added",
    "from memory",
    [
      {
        what: "10 of 20, %",
        expected: "50",
        units: "exact",
        got: () => recovery("10", "20", null, "0").percent,
      },
      { what: "its lower limit", expected: "23.98", got: () => recovery("10", "20", null, "0").lower },
      { what: "its upper limit", expected: "91.95", got: () => recovery("10", "20", null, "0").upper },
    ],
  ),
  ...rowsOfCases(
    "control-golden",
    "Formulas of the control samples worked out outside the program in Python (2026), from sums and a quadrature",
    "golden",
    [
      {
        what: "10 less 3 of 20 ± 5 %: lower",
        expected: "0",
        units: "exact",
        got: () => recovery("10", "20", "3", "0.05").lower,
      },
      {
        what: "10 less 3 of 20 ± 5 %: upper",
        expected: "79.2839026",
        got: () => recovery("10", "20", "3", "0.05").upper,
      },
      {
        what: "95 of 100 ± 2 %: lower",
        expected: "76.4823639",
        got: () => recovery("95", "100", null, "0.02").lower,
      },
      {
        what: "95 of 100 ± 2 %: upper",
        expected: "116.617336",
        got: () => recovery("95", "100", null, "0.02").upper,
      },
      { what: "after six: lower", expected: "86.8452691", got: () => predictionLimits(PAST)?.lower ?? ZERO },
      { what: "after six: upper", expected: "112.488064", got: () => predictionLimits(PAST)?.upper ?? ZERO },
      {
        what: "after six differences",
        expected: "29.9285366",
        got: () => differenceLimit(DIFFERENCES) ?? ZERO,
      },
      {
        what: "6 or more in 2 fields after 10 in 8",
        expected: "0.0816878885",
        got: () => blankChance(BLANKS, { objects: decimal(6), areas: 2 }),
      },
      {
        what: "60 after 40: relative range, %",
        expected: "40",
        units: "exact",
        got: () => relativeDifference(decimal(40), decimal(60)) ?? "none",
      },
    ],
  ),
];
