import { countNeeded, type EffortRule, normalCountFor } from "../../counting/intervals/counting-effort.ts";
import { countPrecision, shortcutPrecision } from "../../counting/intervals/poisson-interval.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

/** Relative half-width: (z/r)², then the smallest count by each meaning of ± r. */
const NEEDED: readonly (readonly [r: number, exact: string, normal: string, half: string, upper: string])[] =
  [
    [0.5, "15.3658352827765", "16", "18", "24"],
    [0.3, "42.6828757854903", "43", "47", "56"],
    [0.2, "96.0364705173531", "97", "102", "116"],
    [0.1, "384.145882069412", "385", "395", "423"],
    [0.05, "1536.58352827765", "1537", "1557", "1615"],
    [0.02, "9603.64705173531", "9604", "9654", "9799"],
    [0.01, "38414.5882069412", "38415", "38515", "38804"],
  ];

function neededRows([r, exact, normal, half, upper]: (typeof NEEDED)[number]): CaseRow[] {
  const by = (rule: EffortRule, expected: string): CaseRow => ({
    what: `count for ± ${r * 100} %, ${rule}`,
    expected,
    got: () => countNeeded(r, rule),
    units: "exact",
  });
  return [
    { what: `(z/r)² for ± ${r * 100} %`, expected: exact, got: () => normalCountFor(r), units: 1 },
    by("normal", normal),
    by("garwood-half-width", half),
    by("garwood-upper", upper),
  ];
}

/** Count: 100/√c, 100·z/√c, Garwood below and above, all in per cent. */
const PRECISION: readonly (readonly [
  count: number,
  root: string,
  normal: string,
  below: string,
  above: string,
])[] = [
  [10, "31.6227766017", "61.9795032305", "-52.0461130387", "83.9035604202"],
  [25, "20", "39.1992796908", "-35.2852726087", "47.6197267901"],
  [50, "14.1421356237", "27.7180764870", "-25.7780725251", "31.8375333287"],
  [100, "10", "19.5996398454", "-18.6360087491", "21.6267937924"],
  [200, "7.0710678119", "13.8590382435", "-13.3795586593", "14.8609908327"],
  [300, "5.7735026919", "11.3158573408", "-10.9969082557", "11.9803751842"],
  [400, "5", "9.7998199227", "-9.5609258422", "10.2966620242"],
  [500, "4.4721359550", "8.7652254058", "-8.5742846201", "9.1618537130"],
  [1000, "3.1622776602", "6.1979503230", "-6.1026981592", "6.3952136016"],
];

function precisionRows([count, root, normal, below, above]: (typeof PRECISION)[number]): CaseRow[] {
  const reached = () => countPrecision(count) ?? { normal: Number.NaN, below: Number.NaN, above: Number.NaN };
  const shortcut = () => ((shortcutPrecision(count).relativeHalfWidth ?? Number.NaN) / 2) * 100;
  return [
    // A whole number of per cent is given to ten places like the rest.
    {
      what: `${count} objects: half the shortcut 2/√n, %`,
      expected: root.includes(".") ? root : `${root}.0000000000`,
      got: shortcut,
    },
    { what: `${count} objects: z/√c, %`, expected: normal, got: () => reached().normal * 100 },
    { what: `${count} objects: Garwood below, %`, expected: below, got: () => reached().below * 100 },
    { what: `${count} objects: Garwood above, %`, expected: above, got: () => reached().above * 100 },
  ];
}

export const COUNTING_PRECISION: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "count-needed",
    "Poisson theory; computed with R 4.2.2",
    "golden",
    NEEDED.flatMap(neededRows),
  ),
  ...rowsOfCases(
    "count-precision",
    "Poisson theory; computed with R 4.2.2",
    "golden",
    PRECISION.flatMap(precisionRows),
  ),
];

/** The rule every plankton counter learns: 400 units for ± 10 %, 100 for ± 20 %. */
export const LUND_SHORTCUT: readonly ReferenceCase[] = rowsOfCases(
  "lund-1958",
  "J. W. G. Lund, C. Kipling and E. D. Le Cren, Hydrobiologia 11 (1958) 143, 2/√n",
  "from memory",
  [
    [400, "10"],
    [100, "20"],
    [25, "40"],
    [5, "89.4427"],
    [10, "63.2456"],
  ].map(([count, expected]) => ({
    what: `${count} units: ± 2/√n, %`,
    expected: String(expected),
    got: () => (shortcutPrecision(Number(count)).relativeHalfWidth ?? Number.NaN) * 100,
  })),
);
