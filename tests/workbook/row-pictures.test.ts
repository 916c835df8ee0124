import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { Attachment } from "#core/contract/records/attachment.ts";
import type { SheetBundle } from "#main/workbook/sheet-book/sheet-bundle-type.ts";
import { writeJobWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { disagreements, errorsIn } from "./compare-books.ts";
import { bundleOf } from "./example-bundle.ts";
import { type ReadSheet, readBook, recalculated } from "./other-programs.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-row-pictures-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const picture = (rowId: string, id: string, given: Partial<Attachment>): Attachment => ({
  id,
  subject: { kind: "specimen row", id: rowId },
  fileName: `${id}.png`,
  mediaType: "image/png",
  bytes: 68,
  sha256: id.charAt(0).repeat(64),
  caption: "",
  addedAt: "2026-11-25T09:00:00.000Z",
  addedBy: "person-1",
  withdrawn: null,
  ...given,
});

/** Two rows, invented: the first with a square and two pictures, one of them withdrawn; the second with neither. */
function bundle(): SheetBundle {
  const plain = bundleOf({
    rows: ["Tilia 1", "Tilia 2"].map((label) => ({ label, readings: { d: ["1", "30", "cal10"] } })),
  });
  const rows = [...plain.rows()].map((row, at) => ({
    ...row,
    stage: at === 0 ? { x: "", y: "", square: "M23" } : null,
  }));
  const rowId = rows[0]?.id ?? "";
  const withdrawn = { at: "2026-11-25T10:00:00.000Z", by: "person-1", reason: "of another grain" };
  return {
    ...plain,
    rows: () => rows,
    // Newest first, as the bench gives them.
    pictures: [
      picture(rowId, "c3", { caption: "=1+1" }),
      picture(rowId, "b2", { withdrawn }),
      picture(rowId, "a1", { caption: "equatorial view" }),
    ],
  };
}

function column(sheet: ReadSheet | undefined, heading: string): unknown[] | null {
  const cells = sheet?.cells ?? {};
  const [place] = Object.entries(cells).find(([, cell]) => cell.value === heading) ?? [];
  if (place === undefined) return null;
  const letters = place.replace(/\d+$/, "");
  return [2, 3].map((line) => cells[`${letters}${line}`]?.value ?? null);
}

it("names place and pictures of a row in text columns that another program reads back, and changes no figure", async () => {
  const path = join(folder, "rows.xlsx");
  await writeJobWorkbook([bundle()], { kind: "live" }, path);
  const book = readBook(path);
  const rows = book.sheets.Rows;
  expect(column(rows, "finder-slide square")).toEqual(["M23", null]);
  expect(column(rows, "stage x")).toBeNull();
  expect(column(rows, "pictures")).toEqual(["a1.png: equatorial view\nc3.png: =1+1", null]);
  expect(column(rows, "pictures, SHA-256")).toEqual([`${"a".repeat(64)}\n${"c".repeat(64)}`, null]);
  const again = readBook(recalculated(path));
  expect(errorsIn(again)).toEqual([]);
  expect(disagreements(book, again)).toEqual([]);
});

it("has no such column on a sheet without", async () => {
  const path = join(folder, "plain.xlsx");
  await writeJobWorkbook([{ ...bundle(), pictures: [] }], { kind: "values" }, path);
  expect(column(readBook(path).sheets.Rows, "pictures")).toBeNull();
});
