import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { previewSize } from "#core/measurement/typed-reading.ts";
import { writeWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { disagreements, errorsIn, formulasOf } from "./compare-books.ts";
import { bundleOf, type ExampleRow, setting } from "./example-bundle.ts";
import { editedCopy, readBook, recalculated } from "./other-programs.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-workbook-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Invented inputs: two dimensions, two objectives, labels that look like rules, struck and half-read rows. */
function rows(): ExampleRow[] {
  const labels = ["Calluna", "calluna", ">5", "*", "", "12", "Alnus"];
  const made: ExampleRow[] = [];
  for (let i = 0; i < 42; i++) {
    const start = (i * 7) % 20;
    const width = 12 + ((i * 13) % 29) / 10;
    const calibration = i % 5 === 4 ? "cal10" : "cal40";
    made.push({
      label: labels[i % labels.length] ?? "",
      readings: {
        p: [`${start}.0`, `${(start + width).toFixed(1)}`, calibration],
        e: [`${start},5`, `${(start + width + 1).toFixed(1)}`, calibration],
      },
      ...(i % 11 === 10 ? { struck: "squashed grain" } : {}),
    });
  }
  made.push({ label: "Alnus", readings: { p: ["30", "18", "cal40"], e: ["3", null, null] } });
  made.push({ label: "Alnus", readings: { p: ["3", "15.5", null] } });
  return made;
}

const DEFINITION = {
  dimensions: [
    { key: "p", name: "polar axis" },
    { key: "e", name: "equatorial diameter" },
  ],
  reading: {
    smallestFraction: "0.1",
    repeatability: "0.08",
    repeatabilityDegreesOfFreedom: "24",
    alignmentHalfAngle: "3",
    ends: "points",
    edgeHalfWidth: "0.129",
    edgeDegreesOfFreedom: "8",
    edgeKind: "same-sense",
  },
} as const;

describe("a workbook opened and recalculated by LibreOffice", () => {
  for (const [name, definition] of [
    ["Student's t, shared edges", DEFINITION],
    [
      "k = 2, independent edges, parallel ends",
      {
        ...DEFINITION,
        coverage: "k2",
        reading: { ...DEFINITION.reading, ends: "parallel-edges", edgeKind: "independent" },
      },
    ],
    [
      "everything known",
      {
        ...DEFINITION,
        reading: {
          ...DEFINITION.reading,
          repeatabilityDegreesOfFreedom: "",
          edgeDegreesOfFreedom: "",
          edgeKind: "none",
        },
      },
    ],
  ] as const) {
    it(`agrees with every value the program printed: ${name}`, async () => {
      const path = join(folder, `${name.replace(/\W+/g, "-")}.xlsx`);
      await writeWorkbook(
        bundleOf({ definition: { ...definition, dimensions: [...definition.dimensions] }, rows: rows() }),
        "live",
        path,
      );
      const ours = readBook(path);
      const theirs = readBook(recalculated(path));
      expect(formulasOf(ours).length).toBeGreaterThan(44 * 2 * 7);
      expect(errorsIn(theirs)).toEqual([]);
      expect(disagreements(ours, theirs)).toEqual([]);
    });
  }

  it("shows 295.6 for 23.0 to 51.5 when 96.4 divisions cover 1 mm", async () => {
    // Invented readings, by hand: 28.5 div × 1000 µm / 96.4 div = 295.643… µm.
    const bundle = bundleOf({
      certificate: {
        U: "0",
        lines: [
          ["0", "0"],
          ["1000", "0"],
        ],
      },
      settings10: [setting("0", "96.4", "0", "100")],
      rows: [{ label: "grain", readings: { d: ["23.0", "51.5", "cal10"] } }],
    });
    const path = join(folder, "plain-ratio.xlsx");
    await writeWorkbook(bundle, "live", path);
    const cells = readBook(recalculated(path)).sheets.Rows?.cells ?? {};
    expect(cells.I2?.value).toBe(28.5);
    expect(cells.J2?.value).toBeCloseTo(1000 / 96.4, 12);
    expect(cells.K2?.value).toBeCloseTo(28_500 / 96.4, 11);
    expect(String(cells.Q2?.value)).toMatch(/^295\.6 ± /);
    expect(cells.F2?.value).toBe("23.0");
  });

  it("follows a changed reading to the size, the uncertainty and the mean the core gives", async () => {
    const bundle = bundleOf({
      rows: [
        { label: "a", readings: { d: ["23.0", "51.5", "cal10"] } },
        { label: "a", readings: { d: ["10.0", "33.5", "cal10"] } },
      ],
    });
    const path = join(folder, "changed.xlsx");
    await writeWorkbook(bundle, "live", path);
    const before = readBook(path).sheets.Rows?.cells ?? {};
    const after = readBook(recalculated(editedCopy(path, "Rows", "G2", 75.5)));
    const cells = after.sheets.Rows?.cells ?? {};
    const factor = bundle.calibrations[0]?.result;
    if (!factor) throw new Error("the example has a factor");
    const expected = previewSize({
      left: "23.0",
      right: "75.5",
      factor,
      definition: bundle.method.definition,
    }).size;
    expect(before.K2?.value).not.toBeCloseTo(Number(expected.value), 3);
    expect(cells.I2?.value).toBeCloseTo(52.5, 12);
    expect(cells.K2?.value).toBeCloseTo(Number(expected.value), 9);
    expect(cells.P2?.value).toBeCloseTo(Number(expected.expandedUncertainty), 9);
    const results = Object.values(after.sheets.Results?.cells ?? {}).map((cell) => cell.value);
    const other = Number(before.K3?.value);
    const mean = (Number(expected.value) + other) / 2;
    expect(results.some((value) => typeof value === "number" && Math.abs(value - mean) < 1e-9)).toBe(true);
  });
});
