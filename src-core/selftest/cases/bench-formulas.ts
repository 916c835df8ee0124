import { densityOf } from "../../counting/densities/density.ts";
import {
  KATO_KATZ,
  katoKatzPerObject,
  MCMASTER,
  mcMasterPerObject,
} from "../../counting/densities/egg-count.ts";
import { evidenceOfTotal } from "../../counting/intervals/count-evidence.ts";
import { grainSizeNumber } from "../../methods/grain-size.ts";
import { rootTwoCircle } from "../../methods/particle-diameters.ts";
import { decimal } from "../../quantity/decimal.ts";
import { NO_SOURCE } from "../../vocabulary/literature.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

function row(what: string, expected: string, got: CaseRow["got"], units: number | "exact" = 1): CaseRow {
  return { what, expected, got, units };
}

export const EGG_COUNTS: readonly ReferenceCase[] = [
  ...rowsOfCases("mcmaster", MCMASTER.source, "from memory", [
    row("4 g in 60 mL, 0.3 mL read: multiplier", "50", () => mcMasterPerObject().value, "exact"),
    row("23 eggs, EPG", "1150", () => densityOf(evidenceOfTotal(23), mcMasterPerObject()).value, "exact"),
  ]),
  ...rowsOfCases("kato-katz", KATO_KATZ.source, "from memory", [
    row("printed multiplier", "24", () => katoKatzPerObject("multiplier").value, "exact"),
    row(
      "1000 mg over 41.7 mg",
      "23.980815347721823",
      () => katoKatzPerObject({ template: decimal(KATO_KATZ.template) }).value,
    ),
  ]),
];

export const GRAIN_SIZE: readonly ReferenceCase[] = rowsOfCases(
  "astm-e112",
  "ASTM E112, G = −6.643856·log₁₀ ℓ̄ − 3.288",
  "from memory",
  [
    row("mean intercept 0.0320 mm", "6.643568285639423", () => grainSizeNumber(decimal("0.0320"))),
    row("mean intercept 0.0283 mm", "6.998107979623331", () => grainSizeNumber(decimal("0.0283"))),
  ],
);

const unit = decimal("0.66");

export const ROOT_TWO_CIRCLES: readonly ReferenceCase[] = [
  ...rowsOfCases("root-two-circles", "Circles growing by √2 from a unit of 0.66 µm", "golden", [
    row("circle 1, µm", "0.9333809511662429", () => rootTwoCircle(unit, 1), 5),
    row("circle 3, µm", "1.8667619023324857", () => rootTwoCircle(unit, 3), 5),
    row("circle 5, µm", "3.7335238046649715", () => rootTwoCircle(unit, 5), 20),
  ]),
  ...rowsOfCases(
    "porton",
    `${NO_SOURCE}: circles of a Porton graticule of 200 L = 0.132 mm`,
    "common practice",
    [
      row("L, µm", "0.66", () => decimal("132").div(200), "exact"),
      row("circle 4, µm, as printed", "2.64", () => rootTwoCircle(unit, 4), "exact"),
      row("circle 6, µm, as printed", "5.28", () => rootTwoCircle(unit, 6), "exact"),
      row("field of (100 L)², mm², as printed", "0.00436", () => unit.times(100).div(1000).pow(2), 0.5),
    ],
  ),
];
