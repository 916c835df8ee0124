import { objectsForProportion } from "../../counting/intervals/counting-effort.ts";
import {
  type ProportionMethod,
  proportionInterval,
  zeroProportionUpperLimit,
} from "../../counting/intervals/proportion-interval.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { unitsOfLastDigit } from "../rows-of-cases.ts";

const TABLE_I =
  "R. G. Newcombe: Two-sided confidence intervals for the single proportion (1998), Statistics in Medicine 17, 857, Table I";
const FULL = `${TABLE_I}; full digits computed with R 4.2.2`;
const INVENTED = "Invented inputs; computed with R 4.2.2 and SciPy 1.17.1";

type Row = readonly [
  r: number,
  n: number,
  method: ProportionMethod,
  lower: string,
  upper: string,
  standing: ReferenceCase["standing"],
];

/** Table I as printed, to four places: Wilson read in a stored copy, the other methods from memory. */
const PRINTED: readonly Row[] = [
  [81, 263, "wald", "0.2522", "0.3638", "from memory"],
  [81, 263, "wilson", "0.2553", "0.3662", "published"],
  [81, 263, "wilson-continuity", "0.2535", "0.3682", "from memory"],
  [15, 148, "wald", "0.0527", "0.1500", "from memory"],
  [15, 148, "wilson", "0.0624", "0.1605", "published"],
  [15, 148, "wilson-continuity", "0.0598", "0.1644", "from memory"],
  [0, 20, "wald", "0.0000", "0.0000", "from memory"],
  [0, 20, "wilson", "0.0000", "0.1611", "published"],
  [0, 20, "wilson-continuity", "0.0000", "0.2005", "from memory"],
  [1, 29, "wald", "0.0000", "0.1009", "from memory"],
  [1, 29, "wilson", "0.0061", "0.1718", "published"],
  [1, 29, "wilson-continuity", "0.0018", "0.1963", "from memory"],
];

const COMPUTED: readonly Row[] = [
  [81, 263, "wilson", "0.255288519878", "0.366209576983", "golden"],
  [15, 148, "wilson", "0.062386399531", "0.160487241723", "golden"],
  [0, 20, "wilson", "0.000000000000", "0.161125158053", "golden"],
  [1, 29, "wilson", "0.006113214293", "0.171755218793", "golden"],
  [81, 263, "clopper-pearson", "0.252736745585", "0.367621922601", "golden"],
  [15, 148, "clopper-pearson", "0.057844010083", "0.161650490349", "golden"],
  [0, 20, "clopper-pearson", "0.000000000000", "0.168433470983", "golden"],
  [1, 29, "clopper-pearson", "0.000872646884", "0.177644295489", "golden"],
];

/** Made-up counts, among them pollen percentages. (With z rounded to 1.96 the last three rows move by 1e-6.) */
const MADE_UP: readonly Row[] = [
  [37, 250, "clopper-pearson", "0.10639523150791", "0.19818203635916", "golden"],
  [37, 250, "wilson", "0.10931982398326", "0.19733401886154", "golden"],
  [3, 250, "clopper-pearson", "0.00248155825470", "0.03466661457474", "golden"],
  [3, 250, "wilson", "0.00408931988053", "0.03468078042702", "golden"],
  [0, 250, "clopper-pearson", "0.00000000000000", "0.01464718863568", "golden"],
  [0, 250, "wilson", "0.00000000000000", "0.01513329949544", "golden"],
  [250, 250, "clopper-pearson", "0.98535281136432", "1.00000000000000", "golden"],
  [135, 300, "wilson", "0.39468990164641", "0.50657439547605", "golden"],
  [240, 500, "wilson", "0.43652842657373", "0.52377654704473", "golden"],
  [9, 300, "wilson", "0.01586185380943", "0.05602253914164", "golden"],
];

function intervalCases(source: string, rows: readonly Row[]): ReferenceCase[] {
  return rows.flatMap(([r, n, method, lower, upper, standing]) =>
    (
      [
        ["lower", lower],
        ["upper", upper],
      ] as const
    ).map(([side, expected]) => ({
      id: `proportion-${r}-${n}-${method}-${side}-${expected.length - 2}`,
      source,
      standing,
      what: `${r} of ${n}, ${method}: ${side} 95 % limit`,
      expected,
      tolerance: unitsOfLastDigit(expected, 0.5),
      got: () => proportionInterval(r, n, method)[side],
    })),
  );
}

export const NEWCOMBE_PROPORTIONS: readonly ReferenceCase[] = [
  ...intervalCases(TABLE_I, PRINTED),
  ...intervalCases(FULL, COMPUTED),
  ...intervalCases(INVENTED, MADE_UP),
  {
    id: "proportion-0-250-one-sided",
    source: INVENTED,
    standing: "golden",
    what: "0 of 250: one-sided 95 % upper limit 1 − 0.05^(1/250)",
    expected: "0.0119114197149807",
    tolerance: unitsOfLastDigit("0.0119114197149807", 10),
    got: () => zeroProportionUpperLimit(250),
  },
  ...(
    [
      ["0.15", 0.15, 0.05, "195.9143998554"],
      ["0.15", 0.15, 0.03, "544.206666265"],
      ["0.5", 0.5, 0.05, "384.145882069"],
    ] as const
  ).map(
    ([text, proportion, halfWidth, expected]): ReferenceCase => ({
      id: `objects-for-proportion-${text}-${halfWidth}`,
      source: INVENTED,
      standing: "golden",
      what: `objects to know a proportion near ${text} to ± ${halfWidth}`,
      expected,
      tolerance: unitsOfLastDigit(expected, 0.5),
      got: () => objectsForProportion(proportion, halfWidth),
    }),
  ),
];
