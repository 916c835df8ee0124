import { pairedTest } from "../../statistics/two-sample-tests.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

const FIRST = decimals("0.7 -1.6 -0.2 -1.2 -0.1 3.4 3.7 0.8 0.0 2.0");
const SECOND = decimals("1.9 0.8 1.1 0.1 -0.1 4.4 5.5 1.6 4.6 3.4");
const paired = () => pairedTest(FIRST, SECOND);

const full: readonly CaseRow[] = [
  { what: "paired: t", expected: "-4.062127683382", got: () => paired().t ?? "none" },
  { what: "paired: ν", expected: "9", units: "exact", got: () => paired().degrees },
  { what: "paired: p", expected: "0.00283289019738", got: () => paired().p },
  {
    what: "paired: lower limit",
    expected: "-2.459885763276982",
    got: () => paired().interval.lower,
    units: 1,
  },
  {
    what: "paired: upper limit",
    expected: "-0.700114236723018",
    got: () => paired().interval.upper,
    units: 1,
  },
];

const DATA =
  "‘Student’: The probable error of a mean (1908), Biometrika 6, 1, hours of additional sleep of ten patients";

/** The sleep data, pair by pair. */
export const STUDENT_SLEEP: readonly ReferenceCase[] = rowsOfCases(
  "student-sleep-full",
  `${DATA}; results recomputed with R 4.2.2`,
  "golden",
  full,
);
