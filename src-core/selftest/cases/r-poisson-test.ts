import { compareCounts } from "../../counting/intervals/compare-counts.ts";
import { compareRates, rateInterval } from "../../counting/intervals/poisson-rate.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { unitsOfLastDigit } from "../rows-of-cases.ts";

const EXAMPLES = "Inputs of the documented examples of R's poisson.test; computed with R 4.2.2";
const INVENTED = "Invented inputs; computed with R 4.2.2, poisson.test";

type Row = readonly [id: string, what: string, expected: string, got: () => number];

function casesOf(source: string, standing: ReferenceCase["standing"], rows: readonly Row[]): ReferenceCase[] {
  return rows.map(([id, what, expected, got]) => ({
    id,
    source,
    standing,
    what,
    expected,
    tolerance: unitsOfLastDigit(expected, 10),
    got,
  }));
}

const example = () => rateInterval(137, 24.19893);
const ratio = () => compareRates({ count: 11, exposure: 800 }, { count: 21, exposure: 3011 });
const equal = () => compareRates({ count: 58, exposure: 1 }, { count: 83, exposure: 1 });

function orNone(value: number | null): number {
  return value ?? Number.NaN;
}

export const R_POISSON_TEST: readonly ReferenceCase[] = [
  ...casesOf(EXAMPLES, "golden", [
    ["rate-137", "137 events in 24.19893: rate", "5.66140734321724", () => example().rate],
    ["rate-137-lower", "its lower 95 % limit", "4.75312480484875", () => example().lower],
    ["rate-137-upper", "its upper 95 % limit", "6.69270933417607", () => example().upper],
    ["ratio-11-21", "11 in 800 against 21 in 3011: ratio", "1.9714880952381", () => orNone(ratio().ratio)],
    ["ratio-11-21-lower", "its lower 95 % limit", "0.858426403391639", () => ratio().lower],
    ["ratio-11-21-upper", "its upper 95 % limit", "4.277265943654071", () => orNone(ratio().upper)],
    ["ratio-11-21-p", "its exact p", "0.0796686330333", () => ratio().p],
  ]),
  ...casesOf(INVENTED, "golden", [
    ["ratio-58-83", "58 against 83 on equal areas: ratio", "0.698795180722891", () => orNone(equal().ratio)],
    ["ratio-58-83-lower", "its lower 95 % limit", "0.490836461371377", () => equal().lower],
    ["ratio-58-83-upper", "its upper 95 % limit", "0.989117676763664", () => orNone(equal().upper)],
    ["ratio-58-83-p", "its exact p", "0.0428796152274089", () => equal().p],
    [
      "z-83-58",
      "normal z of 83 and 58, second less first",
      "-2.1053798026663",
      () => orNone(compareCounts({ count: 83, exposure: 1 }, { count: 58, exposure: 1 }).z),
    ],
    [
      "z-112-138",
      "normal z of 112 and 138 on equal areas",
      "1.6443843832875573",
      () => orNone(compareCounts({ count: 112, exposure: 1 }, { count: 138, exposure: 1 }).z),
    ],
    [
      "chi-squared-112-138",
      "χ² of 112 and 138 on equal areas",
      "2.704",
      () => orNone(compareCounts({ count: 112, exposure: 1 }, { count: 138, exposure: 1 }).chiSquared),
    ],
  ]),
];
