import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { formulasOf } from "./compare-books.ts";
import { bundleOf, type ExampleRow } from "./example-bundle.ts";
import { type ReadBook, readBook, rowsAsOfficeShowsThem } from "./other-programs.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-hostile-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** First characters that make spreadsheets compute: OWASP ASVS 5.0 1.2.10, CWE-1236; and their full-width twins. */
const BEGINNINGS = [
  "=",
  "+",
  "-",
  "@",
  "\t",
  "\n",
  "＝",
  "＋",
  "－",
  "＠",
  "'",
  '"',
  " ",
  "\u200b=",
  "\ufeff=",
];
const MIDDLES = [
  "1+1",
  "cmd|'/c calc'!A1",
  'HYPERLINK("http://example.invalid","x")',
  "SUM(A1:A9)",
  "Rows!B2",
  "factor_1",
  "_x0041_",
  "_x005F_x0041_",
  "<script>&amp;</script>",
  "]]>",
  "µm ± 0,5 °C — “…”",
  "𝟙🌾é",
  "DDE()",
  "1e3",
  "2026-01-02",
  "00012",
  "TRUE",
  "#REF!",
  " trailing ",
  "*?~",
];
/** Characters that XML 1.0 cannot hold or would change: ECMA-376 Part 1, 22.9.2.19. */
const CONTROLS = [
  "\u0000",
  "\u0001",
  "\u0008",
  "\u000b",
  "\u001f",
  "\u007f",
  "\r",
  "\r\n",
  "\ufffe",
  "\uffff",
  "\ud800",
];

/** A small fixed sequence (mulberry32), so that a failure comes back with the same seed. */
function sequence(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) % below;
  };
}

function hostileStrings(count: number, seed: number): string[] {
  const pick = sequence(seed);
  const of = (list: readonly string[]): string => list[pick(list.length)] ?? "";
  return Array.from({ length: count }, (_, i) => {
    const beginning = of(BEGINNINGS);
    const control = pick(3) === 0 ? of(CONTROLS) : "";
    return `${beginning}${of(MIDDLES)}${control}${pick(2) === 0 ? of(MIDDLES) : ""}#${i}`;
  });
}

/** Formulas the program itself made: every one is about cells and names of this workbook, with no text from outside. */
const contents = (book: ReadBook): string[] => formulasOf(book).map(([, cell]) => String(cell.content));

describe("text from outside in a workbook", () => {
  const texts = hostileStrings(500, 20260302);
  const rows: ExampleRow[] = texts.map((note, i) => ({
    label: texts[(i * 7) % texts.length]?.replace(/\p{Cc}/gu, " ") ?? "",
    note,
    readings: { d: ["23.0", "51.5", "cal10"] },
  }));

  it("stays text in labels, notes, names and the sample, character by character, and never computes", async () => {
    const path = join(folder, "hostile.xlsx");
    const plainPath = join(folder, "plain.xlsx");
    const sample = '=HYPERLINK("http://example.invalid";"S")';
    await writeWorkbook(
      bundleOf({ rows, sample, definition: { note: "=1+1", name: "@SUM(1)" } }),
      "live",
      path,
    );
    const book = readBook(path);
    const cells = book.sheets.Rows?.cells ?? {};
    rows.forEach((row, i) => {
      const label = cells[`B${i + 2}`];
      const note = cells[`D${i + 2}`];
      // Lone surrogates cannot be spoken of in UTF-8 at all; the escape keeps them apart from everything else.
      expect(note?.content, `row ${i}`).toBe(row.note);
      expect(label?.content ?? "").toBe(row.label);
      for (const cell of [label, note]) {
        if (cell === undefined) continue;
        expect(cell.type).toBe("s");
        expect(cell.format).toBe("@");
      }
    });
    expect(book.sheets.Results?.cells.A1?.content).toContain(sample);
    expect(book.sheets.Results?.cells.A1?.type).toBe("s");

    await writeWorkbook(
      bundleOf({ rows: rows.map(({ readings }) => ({ label: "x", readings })) }),
      "live",
      plainPath,
    );
    const known = new Set(contents(readBook(plainPath)).map((one) => one.replace(/\d+/g, "0")));
    const strangers = contents(book).filter((one) => {
      const shape = one.replace(/\d+/g, "0");
      return !known.has(shape) && !/^[A-Z(]+.*Rows!\$/.test(one) && !/^IF\([BH]\d+/.test(one);
    });
    expect(strangers).toEqual([]);
    expect(contents(book).some((one) => /HYPERLINK|cmd|DDE/.test(one))).toBe(false);
  });

  it("is shown by LibreOffice exactly as it was typed", async () => {
    const path = join(folder, "through-office.xlsx");
    await writeWorkbook(bundleOf({ rows }), "live", path);
    const shown = rowsAsOfficeShowsThem(path);
    rows.forEach((row, i) => {
      // Its CSV cannot hold half a surrogate pair; openpyxl has read that one above.
      if (row.note?.includes("\ud800")) return;
      // It takes a carriage return for the end of a line now and then, and leaves the escape of DEL as it stands.
      const lines = (text: string | undefined): string | undefined => text?.replace(/\r\n?/g, "\n");
      const expected = lines(row.note)?.replaceAll("\u007f", "_x007F_");
      expect(lines(shown[i + 1]?.[3]), `row ${i}`).toBe(expected);
    });
  });
});
