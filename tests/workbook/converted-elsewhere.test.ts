import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { writeCsv } from "#main/exchange/csv-file.ts";
import { NO_PROGRESS } from "#main/long-work/progress.ts";
import type { SheetBundle } from "#main/workbook/sheet-book/sheet-bundle-type.ts";
import { writeJobWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { disagreements, errorsIn } from "./compare-books.ts";
import { bundleOf } from "./example-bundle.ts";
import { type ReadSheet, readBook, recalculated } from "./other-programs.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-converted-elsewhere-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const OLD = "2.50 µm per division, by the notebook";
const OTHER = "=a program of 2003";

/** Invented: one row read here, four with a diameter that came in µm, the last of them struck. */
function bundle(): SheetBundle {
  const labels = ["Tilia 1", "Tilia 2", "Tilia 3", "Tilia 4", "Tilia 5"];
  const plain = bundleOf({
    rows: labels.map((label, at) => ({ label, readings: at === 0 ? { d: ["1", "30", "cal10"] } : {} })),
  });
  const sizes = [null, ["25.3", OLD], ["26,1", OLD], ["24", OTHER], ["99", OLD]] as const;
  const struck = { at: "2026-11-25T09:00:00.000Z", by: "person-1", reason: "of another slide" };
  const rows = [...plain.rows()].map((row, at): SpecimenRow => {
    const found = sizes[at];
    if (!found) return row;
    const [typed, convertedBy] = found;
    const elsewhere = { convertedBy, sizes: [{ dimension: "d", typed }] };
    return { ...row, elsewhere, struck: at === 4 ? struck : null };
  });
  return { ...plain, rows: () => rows };
}

function column(sheet: ReadSheet | undefined, heading: string, lines: readonly number[]): unknown[] {
  const cells = sheet?.cells ?? {};
  const [place = "?"] = Object.entries(cells).find(([, cell]) => cell.value === heading) ?? [];
  const letters = place.replace(/\d+$/, "");
  return lines.map((line) => cells[`${letters}${line}`]?.value ?? null);
}

/** The cells of the lines below a heading in column A. */
function linesBelow(sheet: ReadSheet | undefined, heading: string, lines: number): unknown[][] {
  const cells = sheet?.cells ?? {};
  const [place = "A0"] = Object.entries(cells).find(([, cell]) => cell.value === heading) ?? [];
  const first = Number(place.slice(1));
  return Array.from({ length: lines }, (_, at) =>
    [..."ABCDEFGHI"].map((letter) => cells[`${letter}${first + at}`]?.value ?? null),
  );
}

it("stands in columns of its own and apart in the statistics, live, as another program recalculates them", async () => {
  const path = join(folder, "rows.xlsx");
  await writeJobWorkbook([bundle()], { kind: "live" }, path);
  const book = readBook(path);
  const lines = [2, 3, 4, 5, 6];
  expect(column(book.sheets.Rows, "diameter, converted elsewhere (µm)", lines)).toEqual([
    null,
    25.3,
    26.1,
    24,
    99,
  ]);
  expect(column(book.sheets.Rows, "converted by", lines)).toEqual([null, OLD, OLD, OTHER, OLD]);
  const again = readBook(recalculated(path));
  expect(errorsIn(again)).toEqual([]);
  expect(disagreements(book, again)).toEqual([]);
  // By hand: mean (25.3 + 26.1)/2 = 25.7, s = 0.8/√2 = 0.56569, CV 100·0.56569/25.7 = 2.2011 %.
  const [heading, rule, columns, ...found] = linesBelow(
    again.sheets.Results,
    "Converted elsewhere, not traceable",
    5,
  );
  expect(heading?.[0]).toBe("Converted elsewhere, not traceable");
  expect(String(rule?.[0])).toContain("in none of the other figures");
  expect(columns?.slice(0, 4)).toEqual(["Dimension", "n", "converted by", "U"]);
  expect(found[0]?.slice(0, 4)).toEqual(["diameter", 2, OLD, "none"]);
  const figures = (found[0]?.slice(4) ?? []).map(Number);
  for (const [at, expected] of [
    0.8 / Math.SQRT2,
    (100 * 0.8) / Math.SQRT2 / 25.7,
    25.3,
    26.1,
    25.7,
  ].entries())
    expect(figures[at]).toBeCloseTo(expected, 5);
  expect(found[1]).toEqual(["diameter", 1, OTHER, "none", null, null, 24, 24, 24]);
  // What was measured here counts alone.
  const [, , all] = linesBelow(again.sheets.Results, "diameter", 3);
  expect(all?.slice(0, 2)).toEqual(["All rows that count", 1]);
});

it("is told in the table as well, with the origin as text that nothing computes", async () => {
  const path = join(folder, "rows.csv");
  await writeCsv([bundle()], path, NO_PROGRESS);
  const lines = readFileSync(path, "utf8").split("\r\n");
  expect(lines[0]).toContain('"converted elsewhere (µm)","converted by","audit trail up to"');
  expect(lines[2]).toMatch(/,"?diameter"?,.*,25\.3,"2\.50 µm per division, by the notebook",/);
  expect(lines[3]).toMatch(/,26\.1,/);
  expect(lines[4]).toMatch(/,24,"'=a program of 2003",/);
  const width = (line: string | undefined) => (line ?? "").replaceAll(/"[^"]*"/g, "x").split(",").length;
  expect(lines.slice(1, 6).map(width)).toEqual(lines.slice(1, 6).map(() => width(lines[0])));
});
