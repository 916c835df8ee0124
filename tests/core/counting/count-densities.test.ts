import { describe, expect, it } from "vitest";
import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import { densityUnderFactor } from "#core/counting/densities/density-under-factor.ts";
import { requireCountMethod } from "#core/counting/methods/count-method-check.ts";
import {
  EGGS_KATO_KATZ,
  EGGS_MCMASTER,
  FIBRES_ON_FILTER,
  HAEMOCYTOMETER,
} from "#core/counting/methods/ready-bench-methods.ts";
import {
  PALMER_MALONEY_FIELDS,
  SEDGEWICK_RAFTER_STRIPS,
  UTERMOHL_FIELDS,
} from "#core/counting/methods/ready-plankton-methods.ts";
import {
  AIRBORNE_POLLEN,
  POLLEN_MARKER,
  POLLEN_PER_TEN_GRAMS,
} from "#core/counting/methods/ready-pollen-methods.ts";
import { type CountData, countResults } from "#core/counting/results/count-results.ts";
import { areaFactor, countData, fieldCounts, spread } from "../../support/count-data.ts";

/** A chamber method counted another way. */
function chamber(
  chamberId: string,
  area: CountMethodDefinition["area"],
  base = SEDGEWICK_RAFTER_STRIPS,
): CountMethodDefinition {
  return { ...base, area, density: { kind: "chamber", chamber: { from: "library", chamberId } } };
}

const F = areaFactor("10.1");
const GRID = { side: "25" };
const fields = (total: number, n: number, key = "diatoms") => spread(total, n, key);
const fibres = (whole: number, n: number, half = 0) =>
  fieldCounts([{ fibre: whole + half }, ...Array.from({ length: n - 1 }, () => ({}))]);
const W_B: CountMethodDefinition = {
  ...FIBRES_ON_FILTER,
  area: {
    kind: "nominal",
    area: "0.00785",
    source: "NIOSH Manual of Analytical Methods 7400 issue 2 (1994), equipment item 13",
    standing: "published",
  },
};

/**
 * Counts and chambers as their sources or teaching texts give them; where only the formula is published the numbers are
 * computed here from it (formulas from memory unless said). The grid side of 25 div at 10.1 µm/div is 0.2525 mm.
 */
const CASES: readonly (readonly [string, CountData, number, string])[] = [
  [
    "86 in 4 strips of 0.5 mm, Sedgewick-Rafter: Standard Methods 10200 F.2, C·1000/(L·D·W·S)",
    countData(SEDGEWICK_RAFTER_STRIPS, fields(86, 4), { width: "50" }, areaFactor("10")),
    860,
    "/mL",
  ],
  [
    "74 in 10 squares of 1 µL, Sedgewick-Rafter: a chamber maker's instruction text",
    countData(chamber("sedgewick-rafter", { kind: "chamber-square", square: "square" }), fields(74, 10)),
    7400,
    "/mL",
  ],
  [
    "130 in 30 grid fields, Sedgewick-Rafter: Standard Methods 10200 F.2, C·1000/(A·D·F)",
    countData(chamber("sedgewick-rafter", { kind: "square" }), fields(130, 30), GRID, F),
    67967.19275887984,
    "/mL",
  ],
  [
    "860 /mL found after 500 mL were concentrated to 25 mL",
    countData(SEDGEWICK_RAFTER_STRIPS, fields(86, 4), { width: "50", dilution: "0.05" }, areaFactor("10")),
    43,
    "/mL",
  ],
  [
    "212 in 20 grid fields, Palmer–Maloney: Standard Methods 10200 F",
    countData(PALMER_MALONEY_FIELDS, fields(212, 20), GRID, F),
    415645.52494853444,
    "/mL",
  ],
  [
    "412 units in 60 grid fields, 10 mL, Utermöhl: N/mL = X·A_c/(A_f·n·V)",
    countData(UTERMOHL_FIELDS, fields(412, 60), { ...GRID, settledVolume: "10" }, F),
    5286.802655291126,
    "/mL",
  ],
  [
    "412 units on two diameters 0.2525 mm wide, Utermöhl",
    countData(
      chamber("utermohl", { kind: "strip" }, UTERMOHL_FIELDS),
      fields(412, 2),
      { width: "25", settledVolume: "10" },
      F,
    ),
    1601.9012045532113,
    "/mL",
  ],
  [
    "412 units in half the chamber, 10 mL, Utermöhl",
    countData(chamber("utermohl", { kind: "whole" }, UTERMOHL_FIELDS), fields(412, 1), {
      share: "0.5",
      settledVolume: "10",
    }),
    82.4,
    "/mL",
  ],
  [
    "39 cells in 9 large squares: a haemocytometer teaching text",
    countData(HAEMOCYTOMETER, spread(39, 9, "unstained")),
    43333.33333333333,
    "/mL",
  ],
  [
    "187 cells in five 1/25 squares: a haemocytometer teaching text",
    countData(
      { ...HAEMOCYTOMETER, area: { kind: "chamber-square", square: "group" } },
      spread(187, 5, "unstained"),
    ),
    9350000,
    "/mL",
  ],
  [
    "mean of 45 in a large square, 1 in 5: a haemocytometer teaching text",
    countData(HAEMOCYTOMETER, spread(45, 1, "unstained"), { dilution: "5" }),
    2250000,
    "/mL",
  ],
  [
    "100 cells in 4 large squares, 1 in 200 (50 000 /µL in the text): a haemocytometer teaching text",
    countData(HAEMOCYTOMETER, spread(100, 4, "unstained"), { dilution: "200" }),
    50000000,
    "/mL",
  ],
  [
    "100 fibres in 52 fields, blank 2 in 100: NIOSH 7400, calculations, fibres/mm²",
    countData(W_B, fibres(100, 52), { blankCount: "2", blankFields: "100", airVolume: "480" }),
    242.4301812836845,
    "fibres/mm²",
  ],
  [
    "the same in 480 L of air: NIOSH 7400, calculations, fibres/cc",
    countData(W_B, fibres(100, 52), { blankCount: "2", blankFields: "100", airVolume: "480" }),
    0.19444920790462195,
    "fibres/cc",
  ],
  [
    "37.5 fibres in 100 fields, blank 1.5 in 100",
    countData(W_B, fibres(37, 100, 0.5), {
      blankCount: "1.5",
      blankFields: "100",
      airVolume: "960",
    }),
    45.85987261146497,
    "fibres/mm²",
  ],
  [
    "37.5 fibres in 960 L",
    countData(W_B, fibres(37, 100, 0.5), {
      blankCount: "1.5",
      blankFields: "100",
      airVolume: "960",
    }),
    0.018391719745222933,
    "fibres/cc",
  ],
  [
    "100 fibres under a circle measured as 98 µm",
    countData(
      FIBRES_ON_FILTER,
      fibres(100, 52),
      { diameter: "98", blankCount: "2", blankFields: "100", airVolume: "480" },
      areaFactor("1"),
    ),
    252.2982918715593,
    "fibres/mm²",
  ],
  [
    "500 grains, 120 marker spores of 3 tablets of 18583, 19.6 cm² (published pollen-trap protocol)",
    countData(
      { ...POLLEN_MARKER, density: { kind: "marker", sampleUnit: "cm²" } },
      fieldCounts([{ betula: 500, marker: 120 }]),
      { markerTablets: "3", sporesPerTablet: "18583", sampleSize: "19.6" },
    ),
    11851.40306122449,
    "grains/cm²",
  ],
  [
    "300 grains, 250 marker spores of a tablet of 18583 ± 764, 1 cm³",
    countData(POLLEN_MARKER, fieldCounts([{ betula: 300, marker: 250 }]), {
      sporesPerTablet: "18583",
      sporesDeviation: "764",
      sampleSize: "1",
    }),
    22299.6,
    "grains/cm³",
  ],
  [
    "85 grains in 4 lines of 0.55 mm, 14 mm trace, 10 L/min (from memory)",
    countData(AIRBORNE_POLLEN, spread(85, 4, "poaceae"), { width: "55" }, areaFactor("10")),
    37.56313131313131,
    "/m³",
  ],
  [
    "23 eggs, McMaster, 4 g in 60 mL, 0.3 mL read (FAO manuals, from memory)",
    countData(EGGS_MCMASTER, fieldCounts([{ strongyles: 23 }])),
    1150,
    "EPG",
  ],
  [
    "2 eggs, Kato-Katz, × 24 (WHO bench aids, from memory)",
    countData(EGGS_KATO_KATZ, fieldCounts([{ ascaris: 2 }])),
    48,
    "EPG",
  ],
  [
    "1 egg, Kato-Katz, by the template of 41.7 mg",
    countData(
      { ...EGGS_KATO_KATZ, density: { kind: "kato-katz", by: "template" } },
      fieldCounts([{ ascaris: 1 }]),
      { template: "41.7" },
    ),
    23.980815347721823,
    "EPG",
  ],
];

describe("a finished count under a method", () => {
  it.each(CASES)("%s", (_, data, expected, unit) => {
    requireCountMethod(data.definition);
    const { densities, missing } = countResults(data);
    expect(missing).toBeNull();
    const density = densities.find((one) => one.of === "total" && one.unit === unit);
    expect(Number(density?.value) / expected).toBeCloseTo(1, 12);
  });

  it("has the exact limits of its count: 412 in 60 fields, Garwood (1936) times what one object stands for", () => {
    const [density] = countResults(
      countData(UTERMOHL_FIELDS, fields(412, 60), { ...GRID, settledVolume: "10" }, F),
    ).densities;
    expect(Number(density?.lower)).toBeCloseTo(4788.566820564511, 6);
    expect(Number(density?.upper)).toBeCloseTo(5822.793403909922, 6);
  });

  it("has the uncertainty of a marker count: Stockmarr (1971), from memory, e = 0.0949926… for 300 and 250", () => {
    const [density] = countResults(
      countData(POLLEN_MARKER, fieldCounts([{ betula: 300, marker: 250 }]), {
        sporesPerTablet: "18583",
        sporesDeviation: "764",
        sampleSize: "1",
      }),
    ).densities;
    expect(Number(density?.relative)).toBeCloseTo(0.09499262794221024, 14);
    expect(Number(density?.expanded)).toBeCloseTo(1.959963984540054 * 2118.2976, 3);
  });

  it("squares the factor's doubt in a field area and takes it once in a strip", () => {
    const doubtful = areaFactor("10.1", "0.101");
    const share = (data: CountData) =>
      countResults(data).densities[0]?.components.find((one) => one.key === "factor")?.relative;
    expect(Number(share(countData(UTERMOHL_FIELDS, fields(412, 60), GRID, doubtful)))).toBeCloseTo(-0.02, 14);
    expect(
      Number(share(countData(SEDGEWICK_RAFTER_STRIPS, fields(86, 4), { width: "50" }, doubtful))),
    ).toBeCloseTo(-0.01, 14);
  });
});

describe("a frozen density under another factor", () => {
  const UNDER: readonly (readonly [string, (factor: ReturnType<typeof areaFactor>) => CountData])[] = [
    ["of grid fields", (f) => countData(UTERMOHL_FIELDS, fields(412, 60), GRID, f)],
    ["of strips", (f) => countData(SEDGEWICK_RAFTER_STRIPS, fields(86, 4), { width: "50" }, f)],
    ["of lines on a drum", (f) => countData(AIRBORNE_POLLEN, spread(85, 4, "poaceae"), { width: "55" }, f)],
    [
      "of fibres with a blank",
      (f) =>
        countData(
          FIBRES_ON_FILTER,
          fibres(100, 52),
          {
            diameter: "98",
            blankCount: "2",
            blankFields: "100",
            airVolume: "480",
            readingUncertainty: "0.3",
          },
          f,
        ),
    ],
    ["of nothing found", (f) => countData(UTERMOHL_FIELDS, fields(0, 60), GRID, f)],
  ];

  it.each(UNDER)("%s is what the count gives under it, U and limits too", (_, data) => {
    const before = areaFactor("10.1", "0.05");
    const after = areaFactor("9.7", "0.03");
    const frozen = countResults(data(before)).densities;
    const expected = countResults(data(after)).densities;
    expect(frozen.length).toBeGreaterThan(0);
    frozen.forEach((density, i) => {
      const now = densityUnderFactor(density, after);
      const want = expected[i];
      for (const key of ["value", "perObject", "lower", "upper"] as const) {
        expect(Number(now?.[key]) - Number(want?.[key]), key).toBeCloseTo(0, 9);
      }
      expect(Number(now?.expanded ?? 0) - Number(want?.expanded ?? 0)).toBeCloseTo(0, 9);
      expect(now?.factor).toEqual(want?.factor);
    });
  });

  it("2 % on the factor is 4.04 % on a field's density, the other way", () => {
    const [density] = countResults(countData(UTERMOHL_FIELDS, fields(412, 60), GRID, F)).densities;
    if (!density) throw new Error("no density");
    const now = densityUnderFactor(density, areaFactor("10.302"));
    expect(Number(density.value) / Number(now?.value)).toBeCloseTo(1.0404, 12);
  });

  it("is none where no factor enters", () => {
    const [density] = countResults(countData(EGGS_MCMASTER, fieldCounts([{ strongyles: 3 }]))).densities;
    expect(density && densityUnderFactor(density, F)).toBeNull();
  });
});

describe("what may be printed", () => {
  it("never a plain 0: nothing found is less than 2.996 objects' worth", () => {
    const [density] = countResults(countData(EGGS_MCMASTER, fieldCounts([{}]))).densities;
    expect(density).toMatchObject({ value: "0", expanded: null });
    expect(density?.shown).toBe("< 150 EPG (95 % one-sided, none counted)");
  });

  it("fibres below 5.5 in 100 fields are less than 7 fibres/mm² (NIOSH 7400 issue 2: LOD 7 f/mm²)", () => {
    const { densities } = countResults(
      countData(W_B, fibres(4, 100), { blankFields: "0", airVolume: "480" }),
    );
    expect(densities[0]?.shown).toBe("< 7.1 fibres/mm² (5.5 fibres in 100 fields)");
    expect(Number(densities[0]?.lessThan)).toBeCloseTo(7.006369426751593, 12);
  });

  it("few objects as less than what the method asks for", () => {
    const method = { ...EGGS_MCMASTER, leastReportedObjects: "2" };
    const [density] = countResults(countData(method, fieldCounts([{ strongyles: 1 }]))).densities;
    expect(density?.shown).toBe("< 100 EPG (limit of detection of the method)");
  });

  it("the class of a density, and the limit a source gives to two classes as such", () => {
    const honey = (grains: number) =>
      countResults(
        countData(POLLEN_PER_TEN_GRAMS, fieldCounts([{ pollen: grains, marker: 100 }]), {
          sporesPerTablet: "10000",
        }),
      ).densities[0]?.class;
    expect(honey(100)).toBe("I");
    expect(honey(500)).toBe("II");
    expect(honey(1000)).toBe("on the limit between II and III");
  });
});
