import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { AT, bundleOf, type ExampleRow } from "./example-bundle.ts";
import { type ReadBook, readBook } from "./other-programs.ts";

/** Invented inputs. */
const ROWS: readonly ExampleRow[] = [
  { label: "Calluna", readings: { d: ["23.0", "51.5", "cal10"] } },
  { label: "Calluna", readings: { d: ["40.0", "63.0", "cal10"] }, struck: "double grain" },
  { label: "Tilia", readings: { d: ["0,5", "30.25", "cal40"] }, note: "slightly tilted" },
  { label: "Tilia", readings: { d: ["12.0", "40.0", null] } },
  { label: "Tilia", readings: { d: ["12.0", null, "cal40"] } },
];

let folder = "";
let live: ReadBook;
let values: ReadBook;
let dataSha256 = "";

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "linefall-workbook-"));
  const bundle = bundleOf({
    rows: ROWS,
    amendments: [
      {
        sequence: 12,
        at: AT,
        personId: "p1",
        act: "rows.strike",
        subject: "specimen_row",
        subjectId: "row2",
        reason: "double grain",
        detail: '{"struck":true}',
        hash: "ab".repeat(32),
      },
    ],
  });
  dataSha256 = (await writeWorkbook(bundle, "live", join(folder, "live.xlsx"))).dataSha256;
  await writeWorkbook(bundle, "values", join(folder, "values.xlsx"));
  live = readBook(join(folder, "live.xlsx"));
  values = readBook(join(folder, "values.xlsx"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function cells(sheet: string, book = live): ReadBook["sheets"][string]["cells"] {
  return book.sheets[sheet]?.cells ?? {};
}

/** The line of a worksheet whose first cell holds this text, as values by column letter. */
function line(sheet: string, first: string, book = live): Record<string, unknown> {
  const found = Object.entries(cells(sheet, book)).find(
    ([address, cell]) => /^A\d+$/.test(address) && cell.content === first,
  );
  const row = found?.[0].slice(1);
  const same = Object.entries(cells(sheet, book)).filter(
    ([address]) => address.replace(/^[A-Z]+/, "") === row,
  );
  return Object.fromEntries(same.map(([address, cell]) => [address.replace(/\d+$/, ""), cell.value]));
}

describe("the workbook of a sheet", () => {
  it("has its worksheets in a stable order, and headings that name the unit", () => {
    expect(live.order).toEqual(["Results", "Rows", "Calibrations", "Certificates", "Amendments", "About"]);
    const headings = Object.entries(cells("Rows"))
      .filter(([address]) => /^[A-Z]+1$/.test(address))
      .map(([, cell]) => cell.content);
    expect(headings).toContain("diameter: size (µm)");
    expect(headings).toContain("diameter: factor (µm/div)");
    expect(headings.join("")).not.toContain("\u03bcm");
    expect(headings.join("")).toContain("\u00b5m");
  });

  it("keeps every reading as a number and as the text that was typed", () => {
    const rows = cells("Rows");
    expect([rows.E2?.value, rows.F2?.value, rows.G2?.value, rows.H2?.value]).toEqual([
      23,
      "23.0",
      51.5,
      "51.5",
    ]);
    expect([rows.E4?.value, rows.F4?.value]).toEqual([0.5, "0,5"]);
  });

  it("has a live chain from readings to size and U, with the factor as a named cell", () => {
    const rows = cells("Rows");
    expect(rows.I2?.content).toBe("=G2-E2");
    expect(rows.J2?.content).toBe("=factor_1");
    expect(String(rows.K2?.content)).toContain("I2");
    expect(rows.P2?.content).toBe("=O2*M2");
    expect(live.names.factor_1).toMatch(/^'?Calibrations'?!\$B\$\d+$/);
    expect(live.names.edge_u).toMatch(/^'?About'?!\$B\$\d+$/);
  });

  it("leaves the size empty with its reason where no calibration was in force", () => {
    const rows = cells("Rows");
    expect(rows.I5?.value).toBe(28);
    expect(rows.K5).toBeUndefined();
    expect(rows.P5).toBeUndefined();
    expect(
      Object.entries(rows).find(([a, c]) => a.endsWith("5") && /no calibration/.test(String(c.content))),
    ).toBeDefined();
  });

  it("does not count struck rows, but shows them with the reason", () => {
    expect(line("Results", "Calluna").B).toBe(1);
    expect(line("Results", "All rows that count").B).toBe(2);
    expect(cells("Rows").C3?.value).toBe("struck");
    expect(cells("Rows").D3?.value).toContain("double grain");
    expect(line("Results", "Rows struck").B).toBe(1);
  });

  it("writes dates as true dates and says they are UTC", () => {
    const read = Object.entries(cells("Rows")).filter(([, cell]) => cell.format === "yyyy-mm-dd hh:mm:ss");
    expect(read.map(([, cell]) => cell.value)).toContainEqual({ date: "2026-03-02T09:30:15.250000" });
    expect(line("Calibrations", "Due on").B).toEqual({ date: "2027-03-02T00:00:00" });
    expect(line("Certificates", "Cover glass").B).toBe("under a cover glass");
    expect(line("Certificates", "Kept at").B).toBe("drawer 2");
    expect(line("Certificates", "Calibrated on").B).toEqual({ date: "2025-06-18T00:00:00" });
  });

  it("names the amendment: row, act, reason, person and trail line", () => {
    const amendment = cells("Amendments");
    expect(amendment.A2?.value).toBe(12);
    expect([amendment.C2?.value, amendment.D2?.value, amendment.E2?.value]).toEqual([
      "Ada Example",
      "rows.strike",
      2,
    ]);
    expect(amendment.G2?.value).toBe("double grain");
  });

  it("prints method, rounding, coverage, version and the digest of the data on About", () => {
    expect(line("About", "All records, SHA-256").B).toBe(dataSha256);
    expect(line("About", "Program").B).toBe("Linefall 0.1.0");
    expect(String(line("About", "Rounding").B)).toContain("half to even");
    expect(String(line("About", "Coverage").B)).toContain("Student's t");
    const hand = Object.values(cells("About")).map((cell) => String(cell.content));
    expect(
      hand.some((text) => text.startsWith("Row 1, diameter. Readings as typed: left 23.0, right 51.5")),
    ).toBe(true);
  });

  it("is set up to be read and printed: frozen headings, A4, repeated titles, page numbers", () => {
    const rows = live.sheets.Rows;
    expect(rows?.freeze).toBe("C2");
    expect(rows?.orientation).toBe("landscape");
    expect(String(rows?.paper)).toBe("9");
    expect(rows?.titleRows).toBe("$1:$1");
    expect(rows?.footer).toContain("Page");
    expect(rows?.footer).toContain("K-2025/118");
    expect(live.creator).toBe("Linefall 0.1.0");
    for (const [name, sheet] of Object.entries(live.sheets)) {
      expect(
        Object.values(sheet.widths).every((width) => width >= 7 && width <= 80),
        name,
      ).toBe(true);
    }
  });

  it("has a copy without a single formula that holds the same numbers", () => {
    const formulas = Object.values(values.sheets).flatMap(({ cells: all }) =>
      Object.values(all).filter((cell) => cell.type === "f"),
    );
    expect(formulas).toEqual([]);
    expect(values.names).not.toHaveProperty("factor_1");
    for (const name of ["Results", "Rows", "Calibrations", "Certificates"]) {
      for (const [address, cell] of Object.entries(cells(name))) {
        if (cell.type !== "f" || cell.value === "" || cell.value === null) continue;
        expect(cells(name, values)[address]?.value, `${name}!${address}`).toEqual(cell.value);
      }
    }
  });

  it("gives the same digest for the same data and another one when a reading differs", async () => {
    const again = await writeWorkbook(bundleOf({ rows: ROWS }), "values", join(folder, "again.xlsx"));
    const other = await writeWorkbook(
      bundleOf({
        rows: [{ label: "Calluna", readings: { d: ["23.0", "51.50", "cal10"] } }, ...ROWS.slice(1)],
      }),
      "values",
      join(folder, "other.xlsx"),
    );
    const twice = await writeWorkbook(bundleOf({ rows: ROWS }), "live", join(folder, "twice.xlsx"));
    expect(twice.dataSha256).toBe(again.dataSha256);
    expect(other.dataSha256).not.toBe(again.dataSha256);
  });

  it("can be written for a sheet without rows", async () => {
    const path = join(folder, "empty.xlsx");
    await writeWorkbook(bundleOf({ rows: [] }), "live", path);
    const book = readBook(path);
    expect(Object.keys(book.sheets.Rows?.cells ?? {}).every((address) => /^[A-Z]+1$/.test(address))).toBe(
      true,
    );
    expect(line("Results", "All rows that count", book).B).toBe(0);
  });

  it("keeps the line over all rows live but writes labels as values where formulas would be slow, and says so", async () => {
    const path = join(folder, "many.xlsx");
    const rows = Array.from(
      { length: 1010 },
      (_, i): ExampleRow => ({
        label: `label ${i % 505}`,
        readings: { d: ["23.0", `${51 + (i % 7)}.5`, "cal10"] },
      }),
    );
    await writeWorkbook(bundleOf({ rows }), "live", path);
    const results = readBook(path).sheets.Results?.cells ?? {};
    const texts = Object.values(results).map((cell) => String(cell.content));
    expect(texts.some((text) => text.startsWith("There are more labels than are listed"))).toBe(true);
    expect(texts.some((text) => text.startsWith("The lines per label are values"))).toBe(true);
    const means = Object.entries(results).filter(
      ([address, cell]) => /^N\d+$/.test(address) && cell.format === "0.00",
    );
    expect(means).toHaveLength(501);
    expect(means.filter(([, cell]) => cell.type === "f")).toHaveLength(1);
    expect(means.filter(([, cell]) => cell.type === "n")).toHaveLength(500);
  });
});
