import { garwoodInterval, zeroCountUpperLimit } from "../../counting/intervals/poisson-interval.ts";
import { NO_SOURCE } from "../../vocabulary/literature.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { unitsOfLastDigit } from "../rows-of-cases.ts";

const SOURCE =
  "F. Garwood: Fiducial limits for the Poisson distribution (1936), Biometrika 28, 437; limits computed with R 4.2.2 and SciPy 1.17.1";

type Row = readonly [count: number, limits: string];

/** Count: limits at 90 %, 95 % and 99 %, to six places. */
const ROWS: readonly Row[] = [
  [0, "0 2.995732 0 3.688879 0 5.298317"],
  [1, "0.051293 4.743865 0.025318 5.571643 0.005013 7.430130"],
  [2, "0.355362 6.295794 0.242209 7.224688 0.103495 9.273792"],
  [3, "0.817691 7.753657 0.618672 8.767273 0.337863 10.977477"],
  [4, "1.366318 9.153519 1.089865 10.241589 0.672207 12.594090"],
  [5, "1.970150 10.513035 1.623486 11.668332 1.077928 14.149759"],
  [6, "2.613015 11.842396 2.201894 13.059474 1.536912 15.659675"],
  [7, "3.285316 13.148114 2.814363 14.422675 2.037337 17.133593"],
  [8, "3.980823 14.434650 3.453832 15.763189 2.571103 18.578226"],
  [9, "4.695228 15.705216 4.115373 17.084803 3.132402 19.998423"],
  [10, "5.425406 16.962219 4.795389 18.390356 3.716922 21.397827"],
  [15, "9.246330 23.097130 8.395386 24.740219 6.893360 28.164057"],
  [20, "13.254652 29.062019 12.216520 30.888378 10.353268 34.667999"],
  [25, "17.382126 34.916080 16.178682 36.904932 13.995374 41.000413"],
  [30, "21.593979 40.690508 20.240874 42.826865 17.767246 47.209326"],
  [50, "38.964733 63.287074 37.110964 65.918767 33.663782 71.266088"],
  [100, "84.139277 118.079273 81.363991 121.626794 76.120496 128.760580"],
  [400, "367.681174 434.496809 361.756297 441.186648 350.362503 454.457449"],
  [1000, "948.559849 1053.603122 938.973018 1063.952136 920.424046 1084.372868"],
];

const LEVELS = [0.9, 0.95, 0.99] as const;

function rowCases([count, limits]: Row): readonly ReferenceCase[] {
  const texts = limits.split(" ");
  return LEVELS.flatMap((level, index) =>
    (["lower", "upper"] as const).map((side, offset): ReferenceCase => {
      const expected = texts[2 * index + offset] ?? "";
      return {
        id: `garwood-${count}-${level * 100}-${side}`,
        source: SOURCE,
        standing: "golden",
        what: `${side} limit of a count of ${count} at ${level * 100} %`,
        expected,
        tolerance: expected === "0" ? "exact" : unitsOfLastDigit("0.000000", 0.5),
        got: () => garwoodInterval(count, level)[side],
      };
    }),
  );
}

/** Limits of a count of 25 as a statistics page prints them. */
const PRINTED_25 = [
  [0.9, "17.38", "34.92"],
  [0.95, "16.18", "36.90"],
  [0.99, "14.00", "41.00"],
] as const;

export const GARWOOD_LIMITS: readonly ReferenceCase[] = [
  ...ROWS.flatMap(rowCases),
  ...PRINTED_25.flatMap(([level, lower, upper]): ReferenceCase[] =>
    (
      [
        ["lower", lower],
        ["upper", upper],
      ] as const
    ).map(([side, expected]) => ({
      id: `garwood-printed-25-${level * 100}-${side}`,
      source: `${NO_SOURCE}: exact limits of a Poisson count of 25 as statistics texts print them`,
      standing: "common practice",
      what: `${side} limit of a count of 25 at ${level * 100} %, as printed`,
      expected,
      tolerance: unitsOfLastDigit(expected, 0.5),
      got: () => garwoodInterval(25, level)[side],
    })),
  ),
  {
    id: "zero-count-one-sided-95",
    source: "−ln 0.05, one-sided limit of a Poisson count of zero",
    standing: "golden",
    what: "largest mean compatible with a count of zero",
    expected: "2.99573227355399",
    tolerance: unitsOfLastDigit("2.99573227355399", 10),
    got: () => zeroCountUpperLimit(0.95),
  },
];
