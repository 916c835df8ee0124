import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { MethodDefinition } from "#core/contract/records/method.ts";
import { reportedObject, reportString } from "#core/measurement/report-string.ts";
import { previewSize } from "#core/measurement/typed-reading.ts";
import { classify, wordsOf } from "#core/methods/class-table.ts";
import { POLLEN_SHAPE_CLASSES } from "#core/methods/pollen-shape-classes.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { SheetBundle } from "#main/workbook/sheet-book/sheet-bundle-type.ts";
import { writeWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { disagreements, errorsIn, formulasOf } from "./compare-books.ts";
import { bundleOf, type ExampleRow } from "./example-bundle.ts";
import { allRecalculated, editedCopy, type ReadBook, readBook } from "./other-programs.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-classes-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Invented inputs: equal axes (on a limit), exact ratios, rows with one axis, a label of quotation marks, struck rows. */
const ROWS: readonly ExampleRow[] = [
  { label: "Calluna", readings: { p: ["10.0", "30.0", "cal10"], e: ["5.0", "25.0", "cal10"] } },
  { label: "Calluna", readings: { p: ["10.0", "26.0", "cal10"], e: ["5.0", "19.0", "cal10"] } },
  { label: "Calluna", readings: { p: ["10.0", "34.5", "cal10"], e: ["5.0", "19.2", "cal10"] } },
  { label: "Calluna", readings: { p: ["10.0", "90.0", "cal10"] } },
  { label: 'say "=1"', readings: { p: ["12.0", "33.1", "cal40"], e: ["3.0", "33.9", "cal40"] } },
  { label: "Tilia", struck: "torn", readings: { p: ["1", "90", "cal10"], e: ["3", "9", "cal10"] } },
  { label: "Tilia", readings: { p: ["1", "31", "cal10"], e: ["3", "28", "cal40"] } },
  { label: "Tilia", readings: { p: ["1", "33.5", "cal10"], e: ["3", "28.7", "cal10"] } },
  { label: "", readings: { e: ["0", "40.0", "cal40"] } },
];

type Report = MethodDefinition["report"];

function bundle(kind: Report["kind"], more: Partial<MethodDefinition> = {}): SheetBundle {
  return bundleOf({
    definition: {
      dimensions: [
        { key: "p", name: 'Polar "P" axis' },
        { key: "e", name: "Equatorial diameter" },
      ],
      derived: [
        { key: "pe", name: "P/E", kind: "ratio", of: ["p", "e"] },
        { key: "most", name: "Longest axis", kind: "largest", of: ["p", "e"] },
      ],
      classes: [
        { of: "pe", tableId: "erdtman-shape" },
        { of: "most", tableId: "pollen-size-five" },
        { of: "pe", tableId: "bas-quotient" },
      ],
      report: { kind, places: 1, ratioPlaces: 2 },
      ...more,
    },
    rows: ROWS,
  });
}

const KINDS: readonly (readonly [string, SheetBundle])[] = [
  ["pollen", bundle("pollen P and E")],
  [
    "spores",
    bundle("spore notation", { percentiles: { type: 6, lower: "5", upper: "95" }, rounding: "half-up" }),
  ],
  ["spores-7", bundle("spore notation", { percentiles: { type: 7, lower: "10", upper: "90" } })],
  ["particles", bundle("particle sizes", { percentiles: { type: 7, lower: "10", upper: "90" } })],
  ["plain", bundle("mean and range", { report: { kind: "mean and range", places: 0, ratioPlaces: 2 } })],
];

function cellsOf(book: ReadBook, sheet: string) {
  return Object.entries(book.sheets[sheet]?.cells ?? {});
}

/** What stands in column B on Results beside a label, in the block below the heading given. */
function besideOnResults(book: ReadBook, label: string): unknown[] {
  return cellsOf(book, "Results")
    .filter(([address, cell]) => /^A\d+$/.test(address) && cell.value === label)
    .map(([address]) => book.sheets.Results?.cells[address.replace("A", "B")]?.value);
}

function addressOf(book: ReadBook, heading: string, line: number): string {
  const found = cellsOf(book, "Rows").find(
    ([address, cell]) => /^[A-Z]+1$/.test(address) && cell.content === heading,
  );
  if (!found) throw new Error(`there is no column ${heading}`);
  return found[0].replace(/1$/, String(line));
}

describe("classes and report strings", () => {
  it("are formulas that LibreOffice computes as the program printed them, of every kind", async () => {
    const paths = KINDS.map(([name]) => join(folder, `${name}.xlsx`));
    for (const [at, [, one]] of KINDS.entries()) await writeWorkbook(one, "live", paths[at] ?? "");
    allRecalculated(paths).forEach((path, at) => {
      const [name = "", one] = KINDS[at] ?? [];
      const ours = readBook(paths[at] ?? "");
      const theirs = readBook(path);
      expect(errorsIn(theirs), name).toEqual([]);
      expect(disagreements(ours, theirs), name).toEqual([]);
      const formulas = formulasOf(ours).map(([place]) => place);
      const shape = addressOf(ours, "class of P/E (Pollen shape (P/E))", 2);
      expect(formulas).toContain(`Rows!${shape}`);
      for (const label of ["Calluna", 'say "=1"', "Tilia"]) {
        const objects = [...(one?.rows() ?? [])].filter((row) => row.label === label && !row.struck);
        const expected = one && reportString(objects.map(reportedObject), one.method.definition);
        expect(besideOnResults(theirs, label), `${name}, ${label}`).toContain(expected);
      }
    });
  });

  it("give the grain size number with U, as ASTM E112 has it, from memory, of several and of one", async () => {
    const one = bundle("grain size number");
    const path = join(folder, "grain.xlsx");
    await writeWorkbook(one, "live", path);
    const [recalculated = ""] = allRecalculated([path]);
    const [ours, theirs] = [readBook(path), readBook(recalculated)];
    expect(errorsIn(theirs)).toEqual([]);
    expect(disagreements(ours, theirs)).toEqual([]);
    const rows = (label: string) => [...one.rows()].filter((row) => row.label === label && !row.struck);
    const sizes = rows("Tilia").map((row) => Number(row.measurements[0]?.size?.value));
    const mean = sizes.reduce((sum, size) => sum + size, 0) / sizes.length;
    const words = besideOnResults(theirs, "Tilia")
      .map(String)
      .find((text) => text.startsWith("G "));
    const [, G, u, shown, U] =
      /^G ([-\d.]+) ± ([\d.]+); Polar "P" axis, mean ([\d.]+) ± ([\d.]+) µm, n = 2$/.exec(words ?? "") ?? [];
    expect(Number(shown)).toBeCloseTo(mean, 0);
    expect(Number(G)).toBeCloseTo(-6.643856 * Math.log10(mean / 1000) - 3.288, 2);
    // 6.643856/ln 10 = 2.8854; both are rounded.
    expect(Number(u)).toBeCloseTo((2.8854 * Number(U)) / mean, 1);
    expect(Number(u)).toBeGreaterThan(0);
    const alone = reportString(rows('say "=1"').map(reportedObject), one.method.definition);
    expect(alone).toMatch(/^G [\d.]+; Polar "P" axis, mean [\d.]+ µm, n = 1$/);
    expect(besideOnResults(theirs, 'say "=1"')).toContain(alone);
  });

  it("follow a changed division as the core says, struck rows left out", async () => {
    const one = bundle("pollen P and E");
    const path = join(folder, "changed.xlsx");
    await writeWorkbook(one, "live", path);
    const ours = readBook(path);
    const edited = editedCopy(path, "Rows", addressOf(ours, 'Polar "P" axis: right (div)', 9), 18.5);
    const [recalculated = ""] = allRecalculated([edited]);
    const after = readBook(recalculated);
    const rows = [...one.rows()];
    const [row, factor] = [rows[7], one.calibrations.find(({ id }) => id === "cal10")?.result];
    if (!row || !factor) throw new Error("the example has an eighth row and a factor");
    const { size } = previewSize({ left: "1", right: "18.5", factor, definition: one.method.definition });
    const changed = {
      ...row,
      measurements: row.measurements.map((each) => (each.dimension === "p" ? { ...each, size } : each)),
    };
    const [p, e] = [size.value, row.measurements[1]?.size?.value ?? "1"].map(decimal);
    const shape = wordsOf(classify((p ?? decimal(0)).div(e ?? decimal(1)), POLLEN_SHAPE_CLASSES));
    const at = addressOf(ours, "class of P/E (Pollen shape (P/E))", 9);
    expect(ours.sheets.Rows?.cells[at]?.value).not.toBe(shape);
    expect(after.sheets.Rows?.cells[at]?.value).toBe(shape);
    const tilia = [rows[6] ?? changed, changed].map(reportedObject);
    expect(besideOnResults(after, "Tilia")).toContain(reportString(tilia, one.method.definition));
  });

  it("count each class per label and none of a struck row", async () => {
    const one = bundle("pollen P and E");
    const path = join(folder, "counted.xlsx");
    await writeWorkbook(one, "live", path);
    const [recalculated = ""] = allRecalculated([path]);
    const book = readBook(recalculated);
    const results = book.sheets.Results?.cells ?? {};
    const heading = cellsOf(book, "Results").find(
      ([address, cell]) => /^C\d+$/.test(address) && cell.value === "peroblate",
    );
    const line = Number(heading?.[0].slice(1));
    const read = (offset: number) =>
      ["A", "B", "C", "D", "E", "F", "G", "H", "I", "J", "K"].map(
        (c) => results[`${c}${line + offset}`]?.value ?? null,
      );
    expect(read(1)).toEqual(["All rows that count", 6, 0, 1, 0, 0, 0, 1, 1, 1, 2]);
    expect(read(2)).toEqual(["Calluna", 3, 0, 0, 0, 0, 0, 0, 1, 0, 2]);
  });

  it("are the same words without formulas in a copy of values", async () => {
    const path = join(folder, "values.xlsx");
    const one = bundle("spore notation");
    await writeWorkbook(one, "values", path);
    const book = readBook(path);
    expect(formulasOf(book)).toEqual([]);
    const tilia = [...one.rows()].filter((row) => row.label === "Tilia" && !row.struck).map(reportedObject);
    expect(besideOnResults(book, "Tilia")).toContain(reportString(tilia, one.method.definition));
  });
});
