import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { OptionalLine } from "#core/contract/records/primitives.ts";
import { SheetDocument } from "#core/contract/records/sheet-document.ts";
import { bundleOfDocument, digestOfDocument, writeJson } from "#main/exchange/json-file.ts";
import { NO_PROGRESS } from "#main/long-work/progress.ts";
import type { SheetBundle } from "#main/workbook/sheet-book/sheet-bundle-type.ts";
import { writeWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { AT, bundleOf, type ExampleRow } from "./example-bundle.ts";
import { readBook } from "./other-programs.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-json-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Writes bundles as JSON and takes them out of the file again. */
async function throughJson(
  bundles: readonly SheetBundle[],
): Promise<{ back: SheetBundle[]; document: SheetDocument }> {
  const path = join(folder, "sheets.json");
  await writeJson(bundles, path, NO_PROGRESS);
  const document = SheetDocument.parse(JSON.parse(readFileSync(path, "utf8")));
  return { document, back: document.sheets.map((sheet) => bundleOfDocument(document, sheet)) };
}

function plain({ rows, earlier, ...records }: SheetBundle): unknown {
  return { ...records, rows: [...rows()], earlier: { ...earlier, results: [...earlier.results()] } };
}

const line = fc
  .string({ unit: "grapheme", maxLength: 40 })
  .filter((text) => OptionalLine.safeParse(text).success)
  .map((text) => text.trim());
const tenths = fc.integer({ min: 0, max: 1000 }).map((n) => (n / 10).toFixed(n % 3));
const row: fc.Arbitrary<ExampleRow> = fc.record({
  label: line,
  note: fc.string({ unit: "binary", maxLength: 60 }),
  readings: fc.record({
    d: fc.tuple(
      tenths,
      fc.option(tenths, { nil: null }),
      fc.constantFrom<string | null>("cal10", "cal40", null),
    ),
  }),
});

describe("sheets as JSON", () => {
  it("come back as they were, whatever labels, notes and readings hold", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(row, { maxLength: 8 }), async (rows) => {
        const bundle = bundleOf({ rows });
        const { back, document } = await throughJson([bundle]);
        expect(back.map(plain)).toEqual([plain(bundle)]);
        const [sheet] = document.sheets;
        if (!sheet) throw new Error("the document has a sheet");
        expect(digestOfDocument(document, sheet)).toBe(sheet.dataSha256);
      }),
      { numRuns: 60 },
    );
  });

  it("give the same workbook, cell by cell, with certificates, calibrations and amendments", async () => {
    const bundle = bundleOf({
      rows: [
        { label: "Calluna", readings: { d: ["23.0", "51.5", "cal10"] } },
        { label: "=Corylus", note: "tilted", struck: "double", readings: { d: ["0,5", "30.25", "cal40"] } },
      ],
      amendments: [
        {
          sequence: 12,
          at: AT,
          personId: "p1",
          act: "rows.strike",
          subject: "specimen_row",
          subjectId: "row2",
          reason: "double",
          detail: '{"struck":true}',
          hash: "ab".repeat(32),
        },
      ],
    });
    const second = { ...bundle, sheet: { ...bundle.sheet, id: "sheet2", number: "S-0002" } };
    const { back } = await throughJson([bundle, second]);
    expect(back.map((one) => one.sheet.number)).toEqual(["S-0001", "S-0002"]);
    const [first] = back;
    if (!first) throw new Error("the document has a sheet");
    const before = await writeWorkbook(bundle, "live", join(folder, "before.xlsx"));
    const after = await writeWorkbook(first, "live", join(folder, "after.xlsx"));
    expect(after.dataSha256).toBe(before.dataSha256);
    expect(readBook(join(folder, "after.xlsx"))).toEqual(readBook(join(folder, "before.xlsx")));
  });

  it("are refused when a record was left out or made up", async () => {
    const { document } = await throughJson([bundleOf({ rows: [] })]);
    for (const change of [
      { version: 9 },
      { sheets: [] },
      { extra: 1 },
      { sheets: [{ ...document.sheets[0], method: undefined }] },
    ]) {
      expect(SheetDocument.safeParse({ ...document, ...change }).success).toBe(false);
    }
  });
});
