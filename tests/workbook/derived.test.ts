import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { rowQuantities } from "#core/measurement/row-quantities.ts";
import { previewSize } from "#core/measurement/typed-reading.ts";
import { sheetReport } from "#main/exchange/sheet-report.ts";
import { jobOf, writeWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { disagreements, errorsIn, formulasOf } from "./compare-books.ts";
import { bundleOf, type ExampleRow } from "./example-bundle.ts";
import { editedCopy, type ReadBook, readBook, recalculated } from "./other-programs.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-derived-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Invented inputs: one factor for both axes, two factors in a row, a missing axis, a struck row. */
const ROWS: readonly ExampleRow[] = [
  { label: "Calluna", readings: { p: ["10.0", "30.5", "cal10"], e: ["5.0", "24.0", "cal10"] } },
  { label: "Calluna", readings: { p: ["10.0", "26.5", "cal10"], e: ["5.0", "84.0", "cal40"] } },
  { label: "Ulmus", readings: { p: ["12.0", "33.1", "cal40"], e: ["3.0", "33.9", "cal40"] } },
  { label: "Ulmus", readings: { p: ["12.0", "33.1", "cal40"], e: ["3.0", null, "cal40"] } },
  { label: "Ulmus", struck: "torn", readings: { p: ["1", "90", "cal10"], e: ["3", "9", "cal10"] } },
];

const DEFINITION = {
  dimensions: [
    { key: "p", name: "polar axis" },
    { key: "e", name: "equatorial diameter" },
  ],
  derived: [
    { key: "pe", name: "P/E", kind: "ratio", of: ["p", "e"] },
    { key: "area", name: "area", kind: "circle-area", of: ["e"] },
    { key: "most", name: "longest axis", kind: "largest", of: ["p", "e"] },
    { key: "avg", name: "mean axis", kind: "mean", of: ["p", "e"] },
    { key: "vol", name: "volume", kind: "prolate-spheroid", of: ["e", "p"] },
    { key: "ell", name: "ellipsoid", kind: "ellipsoid", of: ["p", "e", "e"] },
    { key: "cone", name: "truncated cone", kind: "truncated-cone", of: ["p", "e", "p"] },
  ],
  classes: [{ of: "pe", tableId: "" }],
  report: { kind: "pollen P and E" as const, places: 1, ratioPlaces: 2 },
  reading: {
    smallestFraction: "0.1",
    repeatability: "0.08",
    repeatabilityDegreesOfFreedom: "24",
    alignmentHalfAngle: "3",
    ends: "points" as const,
    edgeHalfWidth: "0.129",
    edgeDegreesOfFreedom: "8",
    edgeKind: "same-sense" as const,
  },
};

async function tableId(): Promise<string> {
  const { POLLEN_SHAPE_CLASSES } = await import("#core/methods/pollen-shape-classes.ts");
  return POLLEN_SHAPE_CLASSES.id;
}

async function bundle(edgeKind: "same-sense" | "independent") {
  return bundleOf({
    definition: {
      ...DEFINITION,
      reading: { ...DEFINITION.reading, edgeKind },
      classes: [{ of: "pe", tableId: await tableId() }],
    },
    rows: ROWS,
  });
}

/** Values of Rows by heading, for one line. */
function lineOf(book: ReadBook, line: number): Record<string, unknown> {
  const cells = book.sheets.Rows?.cells ?? {};
  const headings = Object.entries(cells).filter(([address]) => /^[A-Z]+1$/.test(address));
  return Object.fromEntries(
    headings.map(([address, cell]) => [
      String(cell.content),
      cells[address.replace(/1$/, String(line))]?.value,
    ]),
  );
}

function addressOf(book: ReadBook, heading: string, line: number): string {
  const found = Object.entries(book.sheets.Rows?.cells ?? {}).find(([, cell]) => cell.content === heading);
  return found?.[0].replace(/1$/, String(line)) ?? "";
}

/** Formulas of a laboratory's own, invented; each beside the ready kind that it is, where there is one. */
const FORMULAS = [
  { key: "f_ratio", name: "own ratio", formula: "p/e", of: ["p", "e"] },
  { key: "f_area", name: "own area", formula: "pi/4*e^2", of: ["e"] },
  { key: "f_mean", name: "own mean", formula: "(p+e)/2", of: ["p", "e"] },
  { key: "f_vol", name: "own volume", formula: "pi/6*e^2*p", of: ["e", "p"] },
  { key: "f_most", name: "own longest", formula: "max(p, e)", of: ["p", "e"] },
  { key: "f_root", name: "own root", formula: "sqrt(p^2+e^2) - 2.5*um", of: ["p", "e"] },
  { key: "f_minus", name: "own minus", formula: "-e^2+p*e*exp(-p/e)", of: ["e", "p"] },
].map((one) => ({ ...one, kind: "formula" }));

describe("formulas of the laboratory's own in a workbook", () => {
  it.each(["same-sense", "independent"] as const)(
    "agree with LibreOffice in value, slope, u, ν and U, and with the ready kinds: %s edges",
    async (edgeKind) => {
      const derived = [...FORMULAS, ...DEFINITION.derived.slice(0, 5)];
      const example = bundleOf({
        definition: { ...DEFINITION, derived, classes: [], reading: { ...DEFINITION.reading, edgeKind } },
        rows: ROWS,
      });
      const path = join(folder, `formulas-${edgeKind}.xlsx`);
      await writeWorkbook(example, "live", path);
      const ours = readBook(path);
      const theirs = readBook(recalculated(path));
      expect(formulasOf(ours).length).toBeGreaterThan(200);
      expect(errorsIn(theirs)).toEqual([]);
      expect(disagreements(ours, theirs)).toEqual([]);
      const line = lineOf(theirs, 2);
      for (const [own, ready, unit] of [
        ["own ratio", "P/E", ""],
        ["own area", "area", " (µm²)"],
        ["own mean", "mean axis", " (µm)"],
        ["own volume", "volume", " (µm³)"],
        ["own longest", "longest axis", " (µm)"],
      ] as const) {
        for (const part of ["value", "u", "U"]) {
          const [mine, theirs] = [line[`${own}: ${part}${unit}`], line[`${ready}: ${part}${unit}`]].map(
            Number,
          );
          expect(mine, `${own}: ${part}`).toBeGreaterThan(0);
          expect((mine ?? 0) / (theirs ?? 1)).toBeCloseTo(1, 9);
        }
      }
      const about = Object.values(theirs.sheets.About?.cells ?? {}).map((cell) => String(cell.value));
      expect(about.join("\n")).toContain("own area = pi/4*e^2, in µm²: a formula of this laboratory.");
    },
  );
});

describe("derived quantities in a workbook", () => {
  it.each(["same-sense", "independent"] as const)(
    "agree with LibreOffice in value, sensitivity, u, ν and U, whatever shares a factor: %s edges",
    async (edgeKind) => {
      const path = join(folder, `derived-${edgeKind}.xlsx`);
      await writeWorkbook(await bundle(edgeKind), "live", path);
      const ours = readBook(path);
      const theirs = readBook(recalculated(path));
      expect(formulasOf(ours).length).toBeGreaterThan(200);
      expect(errorsIn(theirs)).toEqual([]);
      expect(disagreements(ours, theirs)).toEqual([]);
    },
  );

  it("follow a changed reading as the core derives them", async () => {
    const example = await bundle("same-sense");
    const path = join(folder, "edited.xlsx");
    await writeWorkbook(example, "live", path);
    const address = addressOf(readBook(path), "polar axis: right (div)", 2);
    const after = lineOf(readBook(recalculated(editedCopy(path, "Rows", address, 44.5))), 2);
    const { definition } = example.method;
    const [row] = [...example.rows()];
    const factor = example.calibrations.find((one) => one.id === "cal10")?.result;
    if (!row || !factor) throw new Error("the example has a row and a factor");
    const { size } = previewSize({ left: "10.0", right: "44.5", factor, definition });
    const measurements = row.measurements.map((one) =>
      one.dimension === "p" ? { ...one, right: "44.5", size } : one,
    );
    const { derived } = rowQuantities({ measurements }, definition, () => factor);
    for (const quantity of derived) {
      if (!("value" in quantity)) throw new Error(quantity.missing);
      const unit = quantity.unit === "1" ? "" : ` (${quantity.unit})`;
      const relative = (found: unknown, expected: string): number => Number(found) / Number(expected) - 1;
      expect(relative(after[`${quantity.name}: value${unit}`], quantity.value)).toBeCloseTo(0, 9);
      expect(relative(after[`${quantity.name}: U${unit}`], quantity.expandedUncertainty)).toBeCloseTo(0, 7);
    }
  });

  it("say why a row has none, leave struck rows out, and count classes and words by label", async () => {
    const path = join(folder, "words.xlsx");
    const example = await bundle("same-sense");
    await writeWorkbook(example, "live", path);
    const book = readBook(path);
    expect(lineOf(book, 5)["P/E: why none"]).toBe("equatorial diameter has no size");
    expect(lineOf(book, 5)["P/E: value"]).toBeUndefined();
    const results = Object.values(book.sheets.Results?.cells ?? {}).map((cell) => String(cell.value));
    expect(results).toContain("P/E: classes");
    const report = sheetReport(await jobOf(example, { kind: "values" }));
    expect(report.strings.map(({ label }) => label)).toEqual(["Calluna", "Ulmus"]);
    expect(results).toContain(report.strings[0]?.text);
    const ratio = report.tables.find((table) => table.name === "P/E");
    expect(ratio?.lines.map(({ label, n }) => [label, n])).toEqual([
      ["All counted rows", 3],
      ["Calluna", 2],
      ["Ulmus", 1],
    ]);
    expect(ratio?.lines[0]?.classes).not.toBe("");
  });
});
