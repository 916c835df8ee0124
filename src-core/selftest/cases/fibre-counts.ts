import { circleArea, nominalArea } from "../../counting/areas/counting-area.ts";
import { FILTER_25_MM, WALTON_BECKETT_AREA } from "../../counting/areas/filters.ts";
import {
  detectionLoading,
  fibreConcentration,
  fibreLoading,
  loadingAsConcentration,
  samplingMinutes,
} from "../../counting/densities/fibre-density.ts";
import { recountTest } from "../../counting/recounts/recount-test.ts";
import { type FibreRule, judgeFibre, NIOSH_7400_A, WHO_FIBRE_RULE } from "../../methods/fibre-rules.ts";
import { decimal, PI, ZERO } from "../../quantity/decimal.ts";
import { exactly, type UncertainProduct } from "../../quantity/uncertain-product.ts";
import { NIOSH_7400, WHO_FIBRES } from "../../vocabulary/literature.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

const nominal = () => nominalArea(WALTON_BECKETT_AREA.area);
const circle98 = () =>
  circleArea(
    { divisions: decimal(98), standardUncertainty: ZERO },
    { factor: decimal(1), standardUncertainty: ZERO },
  );
const circle100 = () => exactly("area", PI.times("0.0025"), "mm²");
const filterArea = () => exactly("filter", FILTER_25_MM.effectiveArea, "mm²");

function loading(fibres: string, fields: number, blank: string, area: UncertainProduct) {
  return fibreLoading(
    { fibres: decimal(fibres), fields, blankFibres: decimal(blank), blankFields: 100 },
    area,
  );
}

function concentration(
  fibres: string,
  fields: number,
  blank: string,
  litres: string,
  area: UncertainProduct,
) {
  return fibreConcentration(loading(fibres, fields, blank, area), filterArea(), exactly("air", litres, "L"))
    .value;
}

function row(what: string, expected: string, got: CaseRow["got"], units: number | "exact" = 1): CaseRow {
  return { what, expected, got, units };
}

export const FIBRE_COUNTS: readonly ReferenceCase[] = rowsOfCases(
  "fibres",
  "NIOSH Manual of Analytical Methods 7400, calculations E = (F/n − B/n_b)/A_f, C = E·A_c/(1000·V); invented counts",
  "golden",
  [
    row(
      "100 in 52 fields, blank 2 in 100: E, fibres/mm²",
      "242.4301812836845",
      () => loading("100", 52, "2", nominal()).loading,
    ),
    row(
      "the same from 480 L: C, fibres/cc",
      "0.19444920790462195",
      () => concentration("100", 52, "2", "480", nominal()),
      20,
    ),
    row(
      "37.5 in 100 fields, blank 1.5: E",
      "45.85987261146497",
      () => loading("37.5", 100, "1.5", nominal()).loading,
    ),
    row(
      "the same from 960 L: C",
      "0.018391719745222933",
      () => concentration("37.5", 100, "1.5", "960", nominal()),
      20,
    ),
    row(
      "100 in 52 fields of a 98 µm circle: E",
      "252.2982918715593",
      () => loading("100", 52, "2", circle98()).loading,
    ),
    row(
      "the same from 480 L: C",
      "0.20236425493864652",
      () => concentration("100", 52, "2", "480", circle98()),
      5,
    ),
    row(
      "100 in 52 fields of an exact 100 µm circle: E",
      "242.30727951344556",
      () => loading("100", 52, "2", circle100()).loading,
      5,
    ),
    row(
      "the same from 480 L: C",
      "0.19435063044307613",
      () => concentration("100", 52, "2", "480", circle100()),
      5,
    ),
    row(
      "recount of 180 and 150, Sr 0.12: difference of roots",
      "1.1689591510828485",
      () => recountTest(decimal(180), decimal(150), decimal("0.12")).difference,
      20,
    ),
    row(
      "its limit",
      "2.1326664817078056",
      () => recountTest(decimal(180), decimal(150), decimal("0.12")).limit,
      2,
    ),
    row(
      "recount of 260 and 150: difference of roots",
      "3.877066782681208",
      () => recountTest(decimal(260), decimal(150), decimal("0.12")).difference,
      2,
    ),
    row(
      "its limit",
      "2.3577102258936296",
      () => recountTest(decimal(260), decimal(150), decimal("0.12")).limit,
      2,
    ),
  ],
);

export const FIBRE_METHOD_FIGURES: readonly ReferenceCase[] = [
  ...rowsOfCases("niosh-7400-lod", `${NIOSH_7400}, front page: LOD 7 fibres/mm²`, "published", [
    row("5.5 fibres in 100 fields of 0.00785 mm², fibres/mm²", "7", () => detectionLoading(nominal()), 0.5),
  ]),
  ...rowsOfCases(
    "fibre-lod-digits",
    "The limits of detection of NIOSH 7400 and OSHA ID-160 with all digits",
    "golden",
    [
      row("5.5 fibres in 100 fields of 0.00785 mm², fibres/mm²", "7.006369426751593", () =>
        detectionLoading(nominal()),
      ),
      row("5.5 fibres/mm² from 2400 L, fibres/cc", "0.0008822916666666667", () =>
        loadingAsConcentration(decimal("5.5"), decimal(385), decimal(2400)),
      ),
    ],
  ),
  ...rowsOfCases(
    "osha-id-160-lod",
    "OSHA: Asbestos in Air, method ID-160 (1988, revised 1997), front page: 0.001 fibres/cc at 2400 L",
    "published",
    [
      row(
        "5.5 fibres/mm² from 2400 L, fibres/cc",
        "0.001",
        () => loadingAsConcentration(decimal("5.5"), decimal(385), decimal(2400)),
        0.5,
      ),
    ],
  ),
  ...rowsOfCases(
    "ilo-asbestos",
    "International Labour Office: Safety in the use of asbestos, code of practice (1984), Appendix B: 50 fibres/mm² is about 40 fibres in 100 fields",
    "published",
    [row("fibres in 100 fields at 50 fibres/mm²", "40", () => nominal().value.times(100).times(50), 1)],
  ),
  ...rowsOfCases("niosh-7400-sampling", "NIOSH 7400, sampling time t = A_c·E/(Q·L·1000)", "from memory", [
    row(
      "minutes for 100 fibres/mm² at 2 L/min and 0.1 fibres/cc",
      "192.5",
      () => samplingMinutes(decimal(100), decimal(385), decimal(2), decimal("0.1")),
      "exact",
    ),
    row(
      "minutes for 1300 fibres/mm²",
      "2502.5",
      () => samplingMinutes(decimal(1300), decimal(385), decimal(2), decimal("0.1")),
      "exact",
    ),
  ]),
];

const judged = (length: string, width: string, rule: FibreRule) =>
  judgeFibre(decimal(length), decimal(width), rule).countable ? "yes" : "no";

/** Length, width, counted by NIOSH A, counted by WHO. */
const EDGES_OF_THE_RULES = [
  ["5.0", "1.0", "no", "no"],
  ["5.1", "1.7", "yes", "no"],
  ["5.1", "1.71", "no", "no"],
  ["9.0", "3.0", "yes", "no"],
  ["5.1", "1.69", "yes", "yes"],
] as const;

export const FIBRE_STRICTNESS: readonly ReferenceCase[] = rowsOfCases(
  "fibre-strictness",
  `${NIOSH_7400}, A rules (ratio at least 3:1), against ${WHO_FIBRES}, 3.1.1 (more than 3:1, thinner than 3 µm)`,
  "published",
  EDGES_OF_THE_RULES.flatMap(([length, width, niosh, who]) => [
    row(
      `${length} × ${width} µm is a fibre by NIOSH A`,
      niosh,
      () => judged(length, width, NIOSH_7400_A),
      "exact",
    ),
    row(
      `${length} × ${width} µm is a fibre by WHO`,
      who,
      () => judged(length, width, WHO_FIBRE_RULE),
      "exact",
    ),
  ]),
);
