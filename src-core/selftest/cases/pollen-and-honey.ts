import { drumPerObject } from "../../counting/densities/airborne-count.ts";
import { type Density, densityOf } from "../../counting/densities/density.ts";
import { markerFactor, markerRatioLimits } from "../../counting/densities/marker-count.ts";
import { evidenceOfTotal } from "../../counting/intervals/count-evidence.ts";
import { type ClassTable, classify, wordsOf } from "../../methods/class-table.ts";
import {
  HONEY_ABSOLUTE_CLASSES,
  HONEY_FREQUENCY_CLASSES,
  HONEYDEW_CLASSES,
  pollenShare,
} from "../../methods/honey-classes.ts";
import { POLLEN_SHAPE_CLASSES, polarRatio } from "../../methods/pollen-shape-classes.ts";
import { POLLEN_SIZE_CLASSES } from "../../methods/pollen-size-classes.ts";
import { decimal, PI, ZERO } from "../../quantity/decimal.ts";
import { roundToPlaces } from "../../quantity/rounding.ts";
import { exactly } from "../../quantity/uncertain-product.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

function row(what: string, expected: string, got: CaseRow["got"], units: number | "exact" = 1): CaseRow {
  return { what, expected, got, units };
}

const tablets = (number: number) => ({ tablets: number, sporesPerTablet: decimal(18583), deviation: ZERO });
const spread = (number: number) => ({ ...tablets(number), deviation: decimal(764) });
const trap = (area: string) =>
  densityOf(evidenceOfTotal(500), markerFactor(120, tablets(3), exactly("area", area, "cm²")).perObject)
    .value;
const core = (): Density =>
  densityOf(evidenceOfTotal(300), markerFactor(250, spread(1), exactly("volume", "1", "cm³")).perObject);
const tabletUncertainty = (number: number) =>
  markerFactor(250, spread(number), exactly("volume", "1", "cm³")).perObject.components.find(
    (component) => component.key === "tablets",
  )?.relative ?? "";

const RATIO_LIMITS = [
  [300, 250, "1.01478488639935", "1.41901995122275"],
  [3, 20, "0.0475334990798294", "0.473350383110083"],
  [25, 400, "0.0418381653880050", "0.0933657096044638"],
] as const;

export const MARKER_COUNTS: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "pollen-trap",
    "Published pollen-trap protocol, calculating: pollen × added/counted marker ÷ 19.6 cm², to the nearest 10; invented counts",
    "golden",
    [
      row("500 grains, 120 markers, 3 tablets of 18583", "232287.5", () => trap("1"), "exact"),
      row("per cm² of a 19.6 cm² trap", "11851.40306122449", () => trap("19.6")),
      row("to the nearest 10", "11850", () => roundToPlaces(trap("19.6"), -1), "exact"),
      row(
        "with the exact area of a 5 cm circle",
        "11830.305229906764",
        () => trap(PI.times("6.25").toString()),
        2,
      ),
    ],
  ),
  ...rowsOfCases(
    "stockmarr-1971",
    "J. Stockmarr, Pollen et Spores 13 (1971) 615, error of a marker count, and a tablet of 18583 ± 764",
    "from memory",
    [
      row("300 grains, 250 markers, one tablet, /cm³", "22299.6", () => core().value, "exact"),
      row("its relative standard error", "0.09499262794221024", () => core().relative ?? "", 2),
      row("its standard error, /cm³", "2118.2976", () => core().relative?.times(core().value) ?? "", 1),
      row("part of one tablet", "0.041112845", () => tabletUncertainty(1), 1),
      row("part of three tablets", "0.023736512", () => tabletUncertainty(3), 1),
    ],
  ),
  ...rowsOfCases(
    "maher-1981",
    "Form of L. J. Maher: Statistics for microfossil concentration measurements employing samples spiked with marker grains (1981), Rev. Palaeobot. Palynol. 32, 153, from memory; invented counts, limits worked out in Python",
    "golden",
    RATIO_LIMITS.flatMap(([grains, marker, lower, upper]) => [
      row(
        `${grains} grains beside ${marker} markers, lower limit of the ratio`,
        lower,
        () => markerRatioLimits(grains, marker).lower,
      ),
      row("upper limit", upper, () => markerRatioLimits(grains, marker).upper),
    ]),
  ),
];

const line = () => exactly("line", "0.55", "mm");

export const AIRBORNE_COUNTS: readonly ReferenceCase[] = rowsOfCases(
  "airborne",
  "Aerobiology practice for traps of the Hirst type: 14 mm trace, 10 L/min, four lines of 0.55 mm",
  "from memory",
  [
    row("factor, grains/m³ per grain", "0.4419191919191918", () => drumPerObject(line(), 4).value, 2),
    row(
      "85 grains, /m³",
      "37.56313131313131",
      () => densityOf(evidenceOfTotal(85), drumPerObject(line(), 4)).value,
      1,
    ),
  ],
);

const classOf = (value: string, table: ClassTable) => wordsOf(classify(decimal(value), table));
const honeyClass = (part: number, whole: number) =>
  wordsOf(classify(pollenShare(decimal(part), decimal(whole)), HONEY_FREQUENCY_CLASSES));
const GAP = "between important minor and secondary: the source names no class here";

export const HONEY_CLASSES: readonly ReferenceCase[] = [
  ...rowsOfCases("honey", HONEY_FREQUENCY_CLASSES.source, "published", [
    row("135 of 300, %", "45", () => pollenShare(decimal(135), decimal(300)), "exact"),
    row("135 of 300 is not more than 45 %", "secondary", () => honeyClass(135, 300), "exact"),
    row("136 of 300", "predominant", () => honeyClass(136, 300), "exact"),
    row(
      "15.5 %: the printed classes leave a gap",
      GAP,
      () => classOf("15.5", HONEY_FREQUENCY_CLASSES),
      "exact",
    ),
    row("16 %", "secondary", () => classOf("16", HONEY_FREQUENCY_CLASSES), "exact"),
    row("15 %", "important minor", () => classOf("15", HONEY_FREQUENCY_CLASSES), "exact"),
    row("2.9 %", "minor", () => classOf("2.9", HONEY_FREQUENCY_CLASSES), "exact"),
  ]),
  ...rowsOfCases("honeydew", HONEYDEW_CLASSES.source, "common practice", [
    row("ratio 3", "not predominantly honeydew", () => classOf("3", HONEYDEW_CLASSES), "exact"),
    row("ratio 3.1", "predominantly honeydew", () => classOf("3.1", HONEYDEW_CLASSES), "exact"),
  ]),
  ...rowsOfCases("honey-absolute", HONEY_ABSOLUTE_CLASSES.source, "from memory", [
    row("19 999 grains in 10 g", "I", () => classOf("19999", HONEY_ABSOLUTE_CLASSES), "exact"),
    row("20 000", "II", () => classOf("20000", HONEY_ABSOLUTE_CLASSES), "exact"),
    row("1 000 000", "IV", () => classOf("1000000", HONEY_ABSOLUTE_CLASSES), "exact"),
    row("1 000 001", "V", () => classOf("1000001", HONEY_ABSOLUTE_CLASSES), "exact"),
  ]),
];

/** P, E, ratio to five places, class. */
const SHAPES = [
  ["40", "18", "2.2222", "perprolate"],
  ["32", "20", "1.6", "prolate"],
  ["28", "24", "1.16667", "subprolate"],
  ["25", "23", "1.08696", "prolate spheroidal"],
  ["24", "24", "1", "on the limit between oblate spheroidal and prolate spheroidal"],
  ["23", "25", "0.92", "oblate spheroidal"],
  ["20", "24", "0.83333", "suboblate"],
  ["16", "24", "0.66667", "oblate"],
  ["10", "24", "0.41667", "peroblate"],
] as const;

export const ERDTMAN_CLASSES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "erdtman-shape",
    POLLEN_SHAPE_CLASSES.source,
    "from memory",
    SHAPES.flatMap(([polar, equatorial, ratio, name]) => {
      const pe = () => polarRatio(decimal(polar), decimal(equatorial));
      return [
        row(`P ${polar}, E ${equatorial}: P/E`, ratio, pe, 0.5),
        row(
          `P ${polar}, E ${equatorial}: shape`,
          name,
          () => wordsOf(classify(pe(), POLLEN_SHAPE_CLASSES)),
          "exact",
        ),
      ];
    }),
  ),
  ...rowsOfCases("erdtman-size", POLLEN_SIZE_CLASSES.source, "from memory", [
    row("30 µm", "medium (media)", () => classOf("30", POLLEN_SIZE_CLASSES), "exact"),
    row("10 µm", "small (minuta)", () => classOf("10", POLLEN_SIZE_CLASSES), "exact"),
    row("201 µm", "gigantic (gigantea)", () => classOf("201", POLLEN_SIZE_CLASSES), "exact"),
  ]),
];
