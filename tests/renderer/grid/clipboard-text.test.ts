import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clipboardText, onlyCell, pastedCells } from "#renderer/grid/clipboard-text.ts";

/** A cell as a sheet can hold it: labels and notes come without blanks around them. */
const cell = fc.string({ unit: "binary", maxLength: 20 }).map((text) => text.replaceAll("\r", "").trim());
const table = fc
  .array(fc.array(cell, { minLength: 2, maxLength: 5 }), { minLength: 1, maxLength: 6 })
  .filter((lines) => lines.every((cells) => cells.some((text) => text !== "")));

describe("the text of copied cells", () => {
  it("is what is pasted again, cell by cell", () => {
    fc.assert(
      fc.property(table, (lines) => {
        expect(pastedCells(clipboardText(lines))).toEqual(lines);
        expect(pastedCells(`${clipboardText(lines).replaceAll("\n", "\r\n")}\r\n`)).toEqual(lines);
      }),
    );
  });

  it("stands between tabs, a line to a row, in quotes where it holds a tab, a line end or a quote before it", () => {
    const lines = [
      ["Tilia 7", "40,5", "seen\ttwice"],
      ['"big"', "60.0", "two\nlines"],
    ];
    expect(clipboardText(lines)).toBe('Tilia 7\t40,5\t"seen\ttwice"\n"""big"""\t60.0\t"two\nlines"');
  });

  it.each(["=1+1", "+1+cmd", "@SUM(A1)", "-2+3", "＝1+1", '"=1"', " =1"])(
    "%s comes as text, not as a formula",
    (label) => {
      const copied = clipboardText([[label, "40"]]);
      expect(copied.replace(/^"/, "")).toMatch(/^'/);
      expect(pastedCells(copied)).toEqual([[label, "40"]]);
    },
  );

  it.each(["-3.5", "−3,5", "40", "40.0", ".5", "0012"])("the reading %s comes as it was typed", (typed) => {
    expect(clipboardText([[typed]])).toBe(typed);
  });

  it("property: no cell of it begins with a character that makes a spreadsheet compute", () => {
    fc.assert(
      fc.property(fc.constantFrom("=", "+", "-", "@"), cell, (sign, rest) => {
        const [line] = clipboardText([[`${sign}${rest}`, "x"]]).split("\t");
        const isNumber = /^-\d*(?:[.,]\d*)?$/.test(`${sign}${rest}`) && /\d/.test(rest);
        expect(isNumber || /^"?'/.test(line ?? "")).toBe(true);
      }),
    );
  });

  it("of one cell is known as one cell, with or without the line end a spreadsheet adds", () => {
    expect(onlyCell(pastedCells("41.5\r\n"))).toBe("41.5");
    expect(onlyCell(pastedCells("41.5"))).toBe("41.5");
    expect(onlyCell(pastedCells("41.5\n42"))).toBeNull();
    expect(onlyCell(pastedCells("41.5\t42"))).toBeNull();
  });
});
