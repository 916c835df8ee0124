import {
  type ChamberSample,
  type CountedPortion,
  chamberArea,
  chamberDensityPerObject,
  concentrationFactor,
  depthWithin,
} from "../../counting/areas/chamber-density.ts";
import {
  type CountingChamber,
  NEUBAUER,
  PALMER_MALONEY,
  SEDGEWICK_RAFTER,
  UTERMOHL,
} from "../../counting/areas/chambers.ts";
import { circleArea, squareArea } from "../../counting/areas/counting-area.ts";
import { type Density, densityOf } from "../../counting/densities/density.ts";
import { evidenceOfTotal } from "../../counting/intervals/count-evidence.ts";
import { decimal, ZERO } from "../../quantity/decimal.ts";
import { exactly, type UncertainProduct, withUncertainty } from "../../quantity/uncertain-product.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

const FACTOR = { factor: decimal("2.525"), standardUncertainty: ZERO };
const exactReading = (divisions: string) => ({ divisions: decimal(divisions), standardUncertainty: ZERO });
/** A 100 × 100 division grid at 2.525 µm/div: 252.5 µm, 0.06375625 mm². */
const grid = (): UncertainProduct => squareArea(exactReading("100"), FACTOR);
const gridFields = (fields: number): CountedPortion => ({ kind: "fields", area: grid(), fields });
const strips = (width: string, number: number): CountedPortion => ({
  kind: "strips",
  width: exactly("width", width, "mm"),
  strips: number,
});
const millilitres = (volume: string): ChamberSample => ({
  settledVolume: exactly("settledVolume", volume, "mL"),
});

function density(
  count: number,
  chamber: CountingChamber,
  portion: CountedPortion,
  sample?: ChamberSample,
): Density {
  return densityOf(evidenceOfTotal(count), chamberDensityPerObject(chamber, portion, sample));
}

function row(what: string, expected: string, got: CaseRow["got"], units: number | "exact" = 1): CaseRow {
  return { what, expected, got, units };
}

const chamberGolden = () =>
  density(
    187,
    NEUBAUER,
    { kind: "squares", square: "group", squares: 5 },
    {
      depth: depthWithin(decimal("0.1"), decimal("0.0025")),
      dilution: withUncertainty(
        "dilution",
        { value: decimal(10), unit: "", standardUncertainty: decimal("0.1") },
        { key: "dilution", name: "dilution" },
      ),
    },
  );
const utermohl = () => density(412, UTERMOHL, gridFields(60), millilitres("10"));

export const CHAMBER_DENSITIES: readonly ReferenceCase[] = rowsOfCases(
  "chamber",
  "Invented counts; formulas of Standard Methods 10200 F, EN 15204 and the chambers' dimensions",
  "golden",
  [
    row(
      "circle of 39.6 div at 2.525 µm/div, mm²",
      "0.007852410916187503",
      () => circleArea(exactReading("39.6"), FACTOR).value,
      20,
    ),
    row("grid of 100 div at 2.525 µm/div, mm²", "0.06375625", () => grid().value, "exact"),
    row(
      "circle of 98 µm, mm²",
      "0.0075429639612690945",
      () => circleArea(exactReading("98"), { ...FACTOR, factor: decimal(1) }).value,
      20,
    ),
    row(
      "Sedgewick-Rafter: 86 in 4 strips of 0.5 mm, /mL",
      "860",
      () => density(86, SEDGEWICK_RAFTER, strips("0.5", 4)).value,
      "exact",
    ),
    row(
      "Sedgewick-Rafter: 74 in 10 squares, /mL",
      "7400",
      () => density(74, SEDGEWICK_RAFTER, { kind: "squares", square: "square", squares: 10 }).value,
      "exact",
    ),
    row(
      "Sedgewick-Rafter: 130 in 30 grid fields, /mL",
      "67967.19275887984",
      () => density(130, SEDGEWICK_RAFTER, gridFields(30)).value,
    ),
    row(
      "Sedgewick-Rafter: 86 in 4 strips after 500 mL to 25 mL, /mL",
      "43",
      () =>
        density(86, SEDGEWICK_RAFTER, strips("0.5", 4), {
          dilution: concentrationFactor(decimal(500), decimal(25)),
        }).value,
      "exact",
    ),
    row("Palmer–Maloney: floor, mm²", "251.64942553417637", () => chamberArea(PALMER_MALONEY).value, 20),
    row(
      "Palmer–Maloney: volume, µL",
      "100.65977021367055",
      () => chamberArea(PALMER_MALONEY).value.times("0.4"),
      2,
    ),
    row(
      "Palmer–Maloney: 212 in 20 grid fields, /mL",
      "415645.52494853444",
      () => density(212, PALMER_MALONEY, gridFields(20)).value,
      5,
    ),
    row("Utermöhl: floor of 25.0 mm, mm²", "490.8738521234052", () => chamberArea(UTERMOHL).value),
    row("Utermöhl: 412 in 60 grid fields, 10 mL, /mL", "5286.802655291126", () => utermohl().value),
    row("Utermöhl: its lower 95 % limit", "4788.566820564511", () => utermohl().lower, 10),
    row("Utermöhl: its upper 95 % limit", "5822.793403909922", () => utermohl().upper, 10),
    row(
      "Utermöhl: 412 on two diameters 0.2525 mm wide, /mL",
      "1601.9012045532113",
      () => density(412, UTERMOHL, strips("0.2525", 2), millilitres("10")).value,
      2,
    ),
    row(
      "Utermöhl: 412 on half the chamber, /mL",
      "82.4",
      () => density(412, UTERMOHL, { kind: "share", share: decimal("0.5") }, millilitres("10")).value,
      "exact",
    ),
    row("Neubauer: 187 in 5 groups, 1 in 10, /mL", "93500000", () => chamberGolden().value, "exact"),
    row("Neubauer: its relative uncertainty", "0.0752058968181421", () => chamberGolden().relative ?? "", 2),
    row(
      "Neubauer: its standard uncertainty, /mL",
      "7031751.35249628",
      () => chamberGolden().relative?.times(chamberGolden().value) ?? "",
      2,
    ),
  ],
);

export const HAEMOCYTOMETER_TEXTS: readonly ReferenceCase[] = rowsOfCases(
  "haemocytometer",
  "Counts of haemocytometer teaching texts (large square 1 mm² × 0.1 mm, 1/25 square 4e-6 mL); densities computed from them",
  "golden",
  [
    row(
      "39 cells in 9 large squares, /mL",
      "43333.33333333333",
      () => density(39, NEUBAUER, { kind: "squares", square: "large", squares: 9 }).value,
    ),
    row(
      "187 cells in five 1/25 squares, /mL",
      "9350000",
      () => density(187, NEUBAUER, { kind: "squares", square: "group", squares: 5 }).value,
      "exact",
    ),
    row(
      "45 cells in one large square, diluted 5, /mL",
      "2250000",
      () =>
        density(
          45,
          NEUBAUER,
          { kind: "squares", square: "large", squares: 1 },
          { dilution: exactly("dilution", "5", "") },
        ).value,
      "exact",
    ),
    row(
      "100 cells in 4 large squares, diluted 200, /µL",
      "50000",
      () =>
        density(
          100,
          NEUBAUER,
          { kind: "squares", square: "large", squares: 4 },
          { dilution: exactly("dilution", "200", "") },
        ).value.div(1000),
      "exact",
    ),
  ],
);
