import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Count, CountingAct } from "#core/contract/records/count.ts";
import type { CountInputs, CountMethodDefinition } from "#core/contract/records/count-method.ts";
import type { ExportFormat } from "#core/contract/records/exchange.ts";
import {
  EGGS_KATO_KATZ,
  EGGS_MCMASTER,
  FIBRES_ON_FILTER,
  HAEMOCYTOMETER,
} from "#core/counting/methods/ready-bench-methods.ts";
import { PARTICLES_PER_CONTAINER } from "#core/counting/methods/ready-particle-methods.ts";
import { SEDGEWICK_RAFTER_STRIPS, UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import {
  AIRBORNE_POLLEN,
  HONEY_CLASSES,
  POLLEN_MARKER,
} from "#core/counting/methods/ready-pollen-methods.ts";
import { countResults } from "#core/counting/results/count-results.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { buildScene, calibrateTrain, type Scene } from "../support/bench-scenes.ts";
import { handOf, openCount } from "../support/count-scene.ts";
import { finishedExport } from "../support/finished-export.ts";
import { POLLEN_BY_LIST } from "../support/invented-taxa.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { disagreements, errorsIn, formulasOf } from "./compare-books.ts";
import { allRecalculated, editedCopy, readBook, recalculated } from "./other-programs.ts";

let bench: TempBench;
let scene: Scene;
let factor: { factor: string; standardUncertainty: string };

beforeAll(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  const calibration = await calibrateTrain(bench, scene);
  if (!calibration.result) throw new Error("no factor");
  factor = calibration.result;
});
afterAll(() => bench.end());

/** Opens, counts the fields given (one category each or several) and closes. */
async function counted(
  definition: CountMethodDefinition,
  fields: readonly Readonly<Record<string, string>>[],
  inputs: CountInputs,
  lastFieldCounted = true,
): Promise<Count> {
  const count = await openCount(bench, scene, { definition, inputs });
  const acts: CountingAct[] = [];
  fields.forEach((field, i) => {
    if (i > 0)
      acts.push({
        kind: "field",
        requestId: bench.request(),
        position: { x: String(i), y: "3.5" },
        waitedMs: 0,
      });
    for (const [category, weight] of Object.entries(field)) {
      acts.push({ kind: "press", requestId: bench.request(), category, weight, rowId: null, waitedMs: 0 });
    }
  });
  for (let from = 0; from < acts.length; from += 400) {
    await bench.call("counts.pressMany", { countId: count.id, acts: acts.slice(from, from + 400) });
  }
  return bench.call("counts.close", { requestId: bench.request(), countId: count.id, lastFieldCounted });
}

async function exported(countId: string, format: ExportFormat): Promise<string> {
  const begun = await bench.call("counts.export", { countId, format, paper: "A4" });
  const { file } = await finishedExport(bench, begun);
  if (!file) throw new Error("nothing was written");
  return file.path;
}

const evenly = (counts: readonly number[], key: string, other = "greens") =>
  counts.map((count, i) => ({
    ...(count === 0 ? {} : { [key]: String(count) }),
    ...(i % 3 === 0 ? { [other]: "1" } : {}),
  }));
/** A laboratory that counts filaments by their length. Invented. */
const FILAMENTS_IN_UNITS: CountMethodDefinition = {
  ...UTERMOHL_FIELDS,
  name: "Filaments in units of length",
  categories: UTERMOHL_FIELDS.categories.map((one) =>
    one.key === "diatoms" ? { ...one, decimals: true as const } : one,
  ),
};
const EVEN = [7, 5, 9, 6, 8, 4, 7, 10, 6, 8, 5, 7];
const CLUMPED = [1, 2, 14, 2, 1, 11, 3, 1, 9, 20];
/** All counts and inputs invented. */
const BOOKS: readonly (readonly [
  string,
  CountMethodDefinition,
  readonly Record<string, string>[],
  CountInputs,
])[] = [
  [
    "Utermöhl, grid fields, doubts in every input",
    UTERMOHL_FIELDS,
    evenly(EVEN, "diatoms"),
    {
      side: "25",
      readingUncertainty: "0.1",
      settledVolume: "10",
      settledVolumeUncertainty: "0.05",
      dilution: "2",
      dilutionUncertainty: "0.02",
    },
  ],
  ["Utermöhl, clumped", UTERMOHL_FIELDS, evenly(CLUMPED, "diatoms"), { side: "25" }],
  [
    "Sedgewick-Rafter, strips, depth in doubt",
    SEDGEWICK_RAFTER_STRIPS,
    evenly([22, 20, 25, 19], "diatoms"),
    { width: "50", depthHalfWidth: "0.02", readingUncertainty: "0.2" },
  ],
  [
    "haemocytometer, squares",
    HAEMOCYTOMETER,
    evenly([5, 4, 4, 4, 5, 4, 4, 4, 5], "unstained", "stained"),
    { dilution: "5" },
  ],
  [
    "fibres with a blank and halves",
    FIBRES_ON_FILTER,
    evenly([2, 3, 1, 4, 2, 3, 2, 1, 3, 2.5, 4, 2], "fibre", "bundle"),
    { diameter: "10", blankCount: "2", blankFields: "100", airVolume: "480", airVolumeUncertainty: "5" },
  ],
  [
    "filaments in decimal units of length",
    FILAMENTS_IN_UNITS,
    evenly([2.4, 3.1, 1.7, 2.9, 2.2, 3.3, 2.6, 1.9, 3.05, 2.5, 2.1, 2.7], "diatoms"),
    { side: "25" },
  ],
  [
    "fibres in clusters, with a blank",
    FIBRES_ON_FILTER,
    evenly([0, 12, 1, 0, 9, 0, 14, 1, 0, 7], "fibre", "bundle"),
    { diameter: "10", blankCount: "2", blankFields: "100", airVolume: "480", airVolumeUncertainty: "5" },
  ],
  [
    "particles of two classes on a part of a filter, per container",
    PARTICLES_PER_CONTAINER,
    evenly([7, 5, 9, 6, 8, 4, 7, 10], "from_10", "from_25"),
    { diameter: "90", readingUncertainty: "0.2", sampleSize: "10", sampleSizeUncertainty: "0.1" },
  ],
  [
    "two strips, further apart than their total says",
    SEDGEWICK_RAFTER_STRIPS,
    evenly([40, 52], "diatoms"),
    { width: "50" },
  ],
  [
    "four fields that differ, too few to show that they cluster",
    UTERMOHL_FIELDS,
    evenly([4, 1, 0, 1], "diatoms"),
    { side: "25" },
  ],
  [
    "a rare taxon beside a common one",
    UTERMOHL_FIELDS,
    evenly([0, 1, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0], "diatoms"),
    { side: "25" },
  ],
  [
    "pollen with marker spores",
    POLLEN_MARKER,
    [
      { pinus: "12.5", betula: "80", marker: "60" },
      { alnus: "40", marker: "30", doubtful: "2" },
    ],
    { sporesPerTablet: "18583", sporesDeviation: "764", sampleSize: "1", sampleSizeUncertainty: "0.02" },
  ],
  [
    "airborne, lines on a drum",
    AIRBORNE_POLLEN,
    evenly([20, 25, 18, 22], "poaceae", "betula"),
    { width: "55" },
  ],
  ["eggs, McMaster, one kind not found", EGGS_MCMASTER, [{ strongyles: "23" }], {}],
  [
    "eggs, Kato-Katz by the template",
    { ...EGGS_KATO_KATZ, name: "Kato-Katz by template", density: { kind: "kato-katz", by: "template" } },
    [{ ascaris: "3" }],
    { template: "41.7" },
  ],
  [
    "honey, percentages alone",
    HONEY_CLASSES,
    [{ brassica: "135", tilia: "100", other_nectar: "65", honeydew: "12" }],
    {},
  ],
  [
    "pollen by a list: groups, two sums, aquatics beside them",
    POLLEN_BY_LIST,
    [
      {
        betula: "80",
        pinus: "31",
        poacea: "22",
        rumex: "3",
        nympha: "11",
        typlat: "2",
        sphagn: "4",
        marker: "60",
      },
    ],
    { markerTablets: "1", sporesPerTablet: "18583", sporesDeviation: "764", sampleSize: "1" },
  ],
];

describe("a count's workbook recalculated by LibreOffice", () => {
  const paths: string[] = [];
  let recalculatedPaths: string[] = [];
  beforeAll(async () => {
    for (const [, definition, fields, inputs] of BOOKS) {
      const count = await counted(definition, fields, inputs);
      expect(count.results?.missing).toBeNull();
      paths.push(await exported(count.id, "live workbook"));
    }
    recalculatedPaths = allRecalculated(paths);
  }, 300_000);

  it.each(BOOKS.map(([name, definition], i) => [name, definition, i] as const))(
    "has no error and every formula equals what the program printed: %s",
    (_, definition, i) => {
      const ours = readBook(paths[i] ?? "");
      const theirs = readBook(recalculatedPaths[i] ?? "");
      expect(Object.keys(ours.sheets)).toEqual([
        "Results",
        "Densities",
        "Fields",
        "Sequence",
        "Amendments",
        "About",
      ]);
      expect(errorsIn(theirs)).toEqual([]);
      expect(disagreements(ours, theirs)).toEqual([]);
      const densities = formulasOf(ours).filter(([place]) => place.startsWith("Densities!"));
      expect(densities.length > 5).toBe(definition.density.kind !== "none");
    },
  );

  it("says whether each class keeps its limit, and by which rule", () => {
    const at = BOOKS.findIndex(([, definition]) => definition === PARTICLES_PER_CONTAINER);
    const cells = Object.entries(readBook(paths[at] ?? "").sheets.Results?.cells ?? {});
    const said = (name: string) => {
      const row = cells
        .find(([address, { value }]) => address.startsWith("A") && value === name)?.[0]
        .slice(1);
      return String(cells.find(([address]) => address === `B${row}`)?.[1].value);
    };
    expect(said("Limit of total")).toContain("at most 3000 /container: conforms by simple acceptance");
    expect(said("Limit of 25 µm and more")).toContain("at most 300 /container: conforms");
  });

  it("gives each sum's percentages as formulas on the counts", () => {
    const at = BOOKS.findIndex(([, definition]) => definition === POLLEN_BY_LIST);
    const cells = readBook(recalculatedPaths[at] ?? "").sheets.Results?.cells ?? {};
    const rowOf = (words: string, after = 0) =>
      Object.entries(cells)
        .flatMap(([address, cell]) =>
          address.startsWith("A") && cell.value === words ? [Number(address.slice(1))] : [],
        )
        .find((row) => row > after) ?? 0;
    const land = rowOf("Percentages of the sum: Land pollen");
    const trees = rowOf("Percentages of the sum: Trees and shrubs");
    expect(land).toBeGreaterThan(0);
    expect(Number(cells[`D${rowOf("Trees", land)}`]?.value)).toBeCloseTo(111 / 136, 12);
    expect(Number(cells[`D${rowOf("Nymphaea (outside)", land)}`]?.value)).toBeCloseTo(11 / 136, 12);
    expect(Number(cells[`D${rowOf("Betula", trees)}`]?.value)).toBeCloseTo(80 / 111, 12);
    expect(Number(cells[`B${rowOf("the sum", trees)}`]?.value)).toBe(111);
  });
});

describe("a reviewer's change", () => {
  it("of one count goes through to the density, its U and the share, as the core gives them", async () => {
    const fields = evenly(EVEN, "diatoms");
    const count = await counted(UTERMOHL_FIELDS, fields, { side: "25", readingUncertainty: "0.1" });
    const path = await exported(count.id, "live workbook");
    const column = Object.entries(readBook(path).sheets.Fields?.cells ?? {}).find(
      ([address, cell]) => address.endsWith("1") && cell.value === "diatoms",
    )?.[0];
    const book = readBook(recalculated(editedCopy(path, "Fields", `${column?.replace("1", "")}2`, 17)));
    const changed = fields.map((field, i) => (i === 0 ? { ...field, diatoms: "17" } : field));
    const results = countResults({
      definition: UTERMOHL_FIELDS,
      categories: UTERMOHL_FIELDS.categories,
      inputs: count.inputs,
      factor: { factor: decimal(factor.factor), standardUncertainty: decimal(factor.standardUncertainty) },
      fields: changed.map((counts) => ({ counts: counts as Record<string, never>, presses: {} })),
      lastFieldCounted: true,
      seconds: 0,
    });
    const [total] = results.densities;
    const cells = Object.entries(book.sheets.Densities?.cells ?? {});
    const row = cells
      .find(([address, cell]) => address.startsWith("A") && cell.value === "total")?.[0]
      .slice(1);
    const at = (letters: string) => book.sheets.Densities?.cells[`${letters}${row}`]?.value;
    expect(Number(at("F")) / Number(total?.value)).toBeCloseTo(1, 12);
    expect(Number(at("H")) / Number(total?.expanded)).toBeCloseTo(1, 10);
    expect(Number(at("I")) / Number(total?.lower)).toBeCloseTo(1, 9);
    const shares = Object.entries(book.sheets.Results?.cells ?? {})
      .find(([address, cell]) => address.startsWith("A") && cell.value === "diatoms")?.[0]
      .slice(1);
    expect(book.sheets.Results?.cells[`D${shares}`]?.value).toBeCloseTo(
      results.categories[0]?.share?.proportion ?? 0,
      12,
    );
  });

  it("has nothing to go through in a values-only copy", async () => {
    const count = await counted(UTERMOHL_FIELDS, evenly(EVEN, "diatoms"), { side: "25" });
    const book = readBook(await exported(count.id, "values workbook"));
    expect(formulasOf(book)).toEqual([]);
    expect(book.sheets.Densities?.cells.A1?.value).toContain(count.number);
  });
});

describe("a count that says little", () => {
  it.each([
    ["nothing counted", [{}], { side: "25" }, true],
    ["no field finished", [{ diatoms: "3" }], { side: "25" }, false],
    ["an input missing", [{ diatoms: "3" }, {}], { side: "" }, true],
  ] as const)("is written too: %s", async (_, fields, inputs, last) => {
    const count = await counted(UTERMOHL_FIELDS, fields, inputs, last);
    const path = await exported(count.id, "live workbook");
    const theirs = readBook(recalculated(path));
    expect(errorsIn(theirs)).toEqual([]);
    expect(disagreements(readBook(path), theirs)).toEqual([]);
  });
});

describe("a count as text", () => {
  it("has its sequence in the workbook, and all of it in the JSON file", async () => {
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    await hand.press("diatoms", "8");
    await hand.undo();
    await hand.press("greens");
    await hand.field();
    const path = await exported(count.id, "live workbook");
    const sequence = readBook(path).sheets.Sequence?.cells ?? {};
    expect([2, 3, 4, 5].map((row) => sequence[`B${row}`]?.value)).toEqual([
      "press",
      "undo",
      "press",
      "new field",
    ]);
    expect(sequence.I2?.value).toBe(2);
    const document = JSON.parse(readFileSync(await exported(count.id, "json"), "utf8"));
    expect(document).toMatchObject({ format: "linefall-count", version: 1 });
    expect(document.events).toEqual(
      (await bench.call("counts.events", { countId: count.id, from: 1, count: 100 })).events,
    );
    expect(document.tally.id).toBe(count.id);
  });

  it("is a table of fields and categories as CSV; text that would compute is neutralised", async () => {
    const definition = {
      ...UTERMOHL_FIELDS,
      name: "=cmd",
      categories: UTERMOHL_FIELDS.categories.map((one, i) => (i === 0 ? { ...one, name: "=1+1" } : one)),
    };
    const count = await counted(definition, evenly([3, 4], "diatoms"), { side: "25" });
    const text = readFileSync(await exported(count.id, "csv"), "utf8");
    const lines = text.slice(1).split("\r\n");
    expect(text.charCodeAt(0)).toBe(0xfeff);
    expect(lines[0]).toContain(`"'=1+1"`);
    expect(lines[1]).toMatch(/^"T-\d+","Mere 3, 0\.5 m","Water Board West",1,,,"[^"]+","yes",3,1,0,/);
    expect(lines).toHaveLength(4);
  });
});
