import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RepeatReading, SpecimenRow } from "#core/contract/records/sheet.ts";
import { previewReadings } from "#core/measurement/typed-reading.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { SheetBundle } from "#main/workbook/sheet-book/sheet-bundle-type.ts";
import { writeJobWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { disagreements, errorsIn, formulasOf } from "./compare-books.ts";
import { bundleOf } from "./example-bundle.ts";
import { type ReadBook, readBook, recalculated } from "./other-programs.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-kinds-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const edges = (number: number, left: string, right: string): RepeatReading => ({
  number,
  left,
  right,
  direct: null,
});
const direct = (number: number, text: string): RepeatReading => ({
  number,
  left: null,
  right: null,
  direct: text,
});

/** Invented inputs: single, repeated and direct readings, narrow and wide spread, one read the wrong way round. */
const READINGS: readonly (readonly RepeatReading[])[] = [
  [edges(1, "10.0", "30.5")],
  [edges(1, "10.0", "30.5"), edges(2, "11.0", "31.6"), edges(3, "9.5", "30.1")],
  [edges(1, "10", "32"), edges(2, "34", "11.5")],
  [edges(1, "5.0", "25.0"), edges(2, "5.0", "25.0")],
  [direct(1, "20.5")],
  [direct(1, "20.5"), direct(2, "21.4"), direct(3, "20.9")],
];

/** A bundle whose rows hold these readings, converted by the core; `parts` adds them up in place of their mean. */
function bundleOfReadings(coverage: "t95" | "k2" = "t95", parts?: number): SheetBundle {
  const plain = bundleOf({
    definition: {
      coverage,
      repeats: parts ? 1 : 3,
      ...(parts ? { dimensions: [{ key: "d", name: "diameter", parts }] } : {}),
      reading: {
        smallestFraction: "0.1",
        repeatability: "0.2",
        repeatabilityDegreesOfFreedom: "12",
        alignmentHalfAngle: "2",
        ends: "points",
        edgeHalfWidth: "0.1",
        edgeDegreesOfFreedom: "",
        edgeKind: "same-sense",
      },
      percentiles: { type: 6, lower: "5", upper: "95" },
    },
    rows: READINGS.map((_, at) => ({
      label: at % 2 === 0 ? "even" : "odd",
      readings: { d: ["1", "30", "cal10"] },
    })),
  });
  const { definition } = plain.method;
  const factor = plain.calibrations[0]?.result;
  if (!factor) throw new Error("the example has a factor");
  const rows = [...plain.rows()].map((row, at): SpecimenRow => {
    const readings = READINGS[at] ?? [];
    const { divisions, size } = previewReadings(readings, { dimension: "d", factor, definition });
    const [first, ...repeats] = readings;
    return {
      ...row,
      measurements: row.measurements.map((one) => ({
        ...one,
        entry: first?.direct == null ? "two-edges" : "direct",
        left: first?.left ?? null,
        right: first?.right ?? null,
        direct: first?.direct ?? null,
        repeats,
        divisions: divisions === null ? null : textOfDecimal(divisions),
        size,
      })),
    };
  });
  return { ...plain, rows: () => rows };
}

function cells(book: ReadBook, sheet: string): ReadBook["sheets"][string]["cells"] {
  return book.sheets[sheet]?.cells ?? {};
}

describe("repeated and direct readings in a workbook", () => {
  it.each(["t95", "k2"] as const)(
    "agree with LibreOffice in divisions, size, u, ν and U: %s",
    async (coverage) => {
      const path = join(folder, `repeats-${coverage}.xlsx`);
      await writeJobWorkbook([bundleOfReadings(coverage)], { kind: "live", paper: "Letter" }, path);
      const ours = readBook(path);
      const theirs = readBook(recalculated(path));
      expect(formulasOf(ours).length).toBeGreaterThan(60);
      expect(errorsIn(theirs)).toEqual([]);
      expect(disagreements(ours, theirs)).toEqual([]);
      const headings = Object.values(cells(ours, "Rows")).map((cell) => cell.content);
      for (const one of ["left (div)", "direct (div)", "right 3 as typed", "s of readings (div)"]) {
        expect(headings).toContain(`diameter: ${one}`);
      }
      expect(String(ours.sheets.Rows?.paper)).toBe("1");
      const percentiles = Object.values(cells(ours, "Results")).map((cell) => String(cell.content));
      expect(percentiles.some((text) => text.includes("PERCENTILE.EXC"))).toBe(true);
      expect(percentiles).toContain("P5 (µm)");
    },
  );
});

describe("readings of parts in a workbook", () => {
  it.each(["t95", "k2"] as const)("agree with LibreOffice and with m·(s² + 2u_r²): %s", async (coverage) => {
    const path = join(folder, `parts-${coverage}.xlsx`);
    const bundle = bundleOfReadings(coverage, 3);
    await writeJobWorkbook([bundle], { kind: "live", paper: "A4" }, path);
    const ours = readBook(path);
    const theirs = readBook(recalculated(path));
    expect(formulasOf(ours).length).toBeGreaterThan(60);
    expect(errorsIn(theirs)).toEqual([]);
    expect(disagreements(ours, theirs)).toEqual([]);
    const about = Object.values(cells(ours, "About")).map((cell) => String(cell.content));
    expect(about.some((line) => line.startsWith("diameter is read in parts: D is the sum"))).toBe(true);
    // 20.5 + 20.6 + 20.6, the second row.
    const [, chain] = [...bundle.rows()];
    expect(chain?.measurements[0]?.divisions).toBe("61.7");
    const divisions = Object.values(cells(theirs, "Rows")).map((cell) => Number(cell.value));
    expect(divisions.some((one) => Math.abs(one - 61.7) < 1e-9)).toBe(true);
  });
});

describe("several sheets of a job in one workbook", () => {
  it("have worksheets and names of their own, a page of contents, and agree with LibreOffice", async () => {
    const first = bundleOfReadings();
    const second = { ...bundleOfReadings("k2"), sheet: { ...first.sheet, id: "sheet2", number: "S-0002" } };
    const path = join(folder, "job.xlsx");
    const written = await writeJobWorkbook([first, second], { kind: "live" }, path);
    const alone = await writeJobWorkbook([first], { kind: "live" }, join(folder, "alone.xlsx"));
    expect(written.dataSha256).not.toBe(alone.dataSha256);
    const ours = readBook(path);
    expect(ours.order.slice(0, 3)).toEqual(["Contents", "Results S-0001", "Rows S-0001"]);
    expect(ours.order).toHaveLength(13);
    expect(ours.names.s1_factor_1).toContain("Calibrations S-0001");
    expect(ours.names.s2_factor_1).toContain("Calibrations S-0002");
    expect(Object.values(cells(ours, "Contents")).map((cell) => cell.content)).toContain(alone.dataSha256);
    const theirs = readBook(recalculated(path));
    expect(errorsIn(theirs)).toEqual([]);
    expect(disagreements(ours, theirs)).toEqual([]);
  });
});
