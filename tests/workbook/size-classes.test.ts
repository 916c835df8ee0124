import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { sheetReport } from "#main/exchange/sheet-report.ts";
import { jobOf, writeWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { disagreements, errorsIn } from "./compare-books.ts";
import { bundleOf, type ExampleBundle, type ExampleRow } from "./example-bundle.ts";
import { editedCopy, type ReadBook, readBook, recalculated } from "./other-programs.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-size-classes-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Invented particles: some 30, 50, 104 and 207 µm, one struck, one without its right edge. */
const ROWS: readonly ExampleRow[] = [
  ["10", "13"],
  ["10", "15"],
  ["10", "20"],
  ["10", "30"],
  ["10", null],
].map(([left = "", right], at) => ({
  label: at % 2 ? "fibre" : "grain",
  readings: { length: [left ?? "", right ?? null, "cal10"] },
}));
const STRUCK: ExampleRow = { label: "grain", struck: "torn", readings: { length: ["1", "90", "cal10"] } };

function example(
  counted: "at-least" | "between",
  rule: "simple-acceptance" | "guarded-acceptance",
  tested: NonNullable<ExampleBundle["tested"]>,
) {
  return bundleOf({
    definition: {
      dimensions: [{ key: "length", name: "Length" }],
      sizeClasses: {
        of: "length",
        counted,
        per: "mL",
        rule,
        limits: [
          { from: "40", most: "1" },
          { from: "100", most: "0.1" },
          { from: "500", most: "" },
        ],
        source: "Invented limits",
      },
    },
    rows: [...ROWS, STRUCK],
    tested,
  });
}

/** The block's lines on Results, by the words of their class: the cells of B to K. */
function linesOf(book: ReadBook): Record<string, readonly unknown[]> {
  const cells = book.sheets.Results?.cells ?? {};
  return Object.fromEntries(
    Object.entries(cells)
      .filter(([address, cell]) => /^A\d+$/.test(address) && / µm$/.test(String(cell.value)))
      .map(([address, cell]) => [
        String(cell.value),
        [..."BCDEFGHIJK"].map((column) => cells[address.replace("A", column)]?.value ?? null),
      ]),
  );
}

describe("numbers by size in a workbook", () => {
  it.each([
    ["at-least", "simple-acceptance"],
    ["between", "guarded-acceptance"],
  ] as const)("agree with LibreOffice: %s, %s", async (counted, rule) => {
    const path = join(folder, `${counted}.xlsx`);
    await writeWorkbook(example(counted, rule, { volume: "25", portion: "50" }), "live", path);
    const theirs = readBook(recalculated(path));
    expect(errorsIn(theirs)).toEqual([]);
    expect(disagreements(readBook(path), theirs)).toEqual([]);
  });

  it("hold n, limits of the count, “less than” and conformity, as the report says", async () => {
    const bundle = example("at-least", "simple-acceptance", { volume: "25", portion: "50" });
    const path = join(folder, "words.xlsx");
    await writeWorkbook(bundle, "live", path);
    const lines = linesOf(readBook(path));
    // 3, 2 and none in 12.5 mL; χ² limits as in the reference cases.
    expect(lines["≥ 40 µm"]?.slice(0, 2)).toEqual([3, "conforms"]);
    expect(lines["≥ 40 µm"]?.[5]).toBeCloseTo(0.24, 12);
    expect(lines["≥ 100 µm"]?.slice(0, 2)).toEqual([2, "does not conform"]);
    expect(lines["≥ 500 µm"]?.slice(0, 2)).toEqual([0, null]);
    expect(lines["≥ 500 µm"]?.[8]).toBeCloseTo(-Math.log(0.05) / 12.5, 12);
    const report = sheetReport(await jobOf(bundle, { kind: "values" }));
    expect(report.bySize?.lines.map(({ counted, number, verdict }) => [counted, number, verdict])).toEqual([
      [3, "0.24", "conforms"],
      [2, "0.16", "does not conform"],
      [0, "< 0.24", ""],
    ]);
    expect(report.bySize?.amount).toBe("25 mL tested, 50 % of it looked at");
    expect(report.conformity).toEqual([
      "Length ≥ 40 µm: 0.24 /mL; at most 1 /mL: conforms by simple acceptance (JCGM 106:2012 8.2): the number itself is at most the limit.",
      "Length ≥ 100 µm: 0.16 /mL; at most 0.1 /mL: does not conform by simple acceptance (JCGM 106:2012 8.2): the number itself is at most the limit.",
    ]);
  });

  it("follow a changed reading and a changed volume", async () => {
    const path = join(folder, "edited.xlsx");
    await writeWorkbook(example("at-least", "simple-acceptance", { volume: "25" }), "live", path);
    const cells = readBook(path).sheets;
    const right = Object.entries(cells.Rows?.cells ?? {}).find(
      ([, cell]) => cell.content === "Length: right (div)",
    );
    const volume = Object.entries(cells.Results?.cells ?? {}).find(
      ([, cell]) => cell.content === "Volume tested (mL)",
    );
    const [column = "", line = ""] = [right?.[0].replace(/\d+$/, ""), volume?.[0].replace(/^[A-Z]+/, "")];
    // The first particle, 30 µm, becomes one of some 415 µm; the volume a tenth.
    const once = editedCopy(path, "Rows", `${column}2`, 50);
    const twice = editedCopy(once, "Results", `B${line}`, 2.5);
    const after = linesOf(readBook(recalculated(twice)));
    expect(after["≥ 40 µm"]?.[0]).toBe(4);
    expect(after["≥ 40 µm"]?.[5]).toBeCloseTo(1.6, 9);
    expect(after["≥ 40 µm"]?.[1]).toBe("does not conform");
  });

  it("give no number while the volume is not named, and leave it undecided", async () => {
    const bundle = example("at-least", "simple-acceptance", { containers: "10" });
    const path = join(folder, "unnamed.xlsx");
    await writeWorkbook(bundle, "live", path);
    const theirs = readBook(recalculated(path));
    expect(errorsIn(theirs)).toEqual([]);
    expect(linesOf(theirs)["≥ 40 µm"]?.slice(0, 2)).toEqual([3, null]);
    expect(linesOf(theirs)["≥ 40 µm"]?.[5]).toBeNull();
    const report = sheetReport(await jobOf(bundle, { kind: "values" }));
    expect(report.conformity[0]).toBe(
      "Length ≥ 40 µm, at most 1 /mL: undecided, the volume tested is not named.",
    );
  });
});
