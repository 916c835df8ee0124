import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { guarded } from "#core/measurement/formula-guard.ts";
import { createRecordReader, delimiterOf } from "#core/quantity/delimited-text.ts";
import { csvNumber, csvRecord, csvText } from "#main/exchange/csv-text.ts";

function read(text: string, delimiter = ","): string[][] {
  const reader = createRecordReader(delimiter);
  // In pieces of three characters, so that every state is crossed between two pieces.
  const pieces = text.match(/[\s\S]{1,3}/gu) ?? [];
  return [...pieces.flatMap((piece) => reader.read(piece)), ...reader.end()];
}

describe("CSV fields", () => {
  it.each([
    "=1+1",
    "+2",
    "-3",
    "@x",
    "\tx",
    "\r\nx",
    "＝1",
    "  =1",
    "\u200b=1",
    "\ufeff@x",
    '"=1',
    "'=1",
    "\u0000x",
  ])("neutralise %j", (text) => {
    expect(guarded(text)).toBe(`'${text}`);
  });

  it.each(["Calluna", "2-3", "a=b", "µm", "'s Gravenhage", ""])("leave %j as it is", (text) => {
    expect(guarded(text)).toBe(text);
  });

  it("come back as they were written, whatever they hold (RFC 4180, 2.5 to 2.7)", () => {
    const field = fc.string({ unit: "grapheme", maxLength: 30 });
    fc.assert(
      fc.property(
        fc.array(fc.array(field, { minLength: 2, maxLength: 5 }), { minLength: 1, maxLength: 6 }),
        (records) => {
          const text = records.map((record) => csvRecord(record.map(csvText))).join("");
          expect(read(text)).toEqual(records.map((record) => record.map(guarded)));
        },
      ),
      { numRuns: 300 },
    );
  });

  it("never begin with what a spreadsheet computes, for 500 hostile strings", () => {
    const first = fc.constantFrom(
      "=",
      "+",
      "-",
      "@",
      "\t",
      "\r",
      "\n",
      "＝",
      "＋",
      "－",
      "＠",
      " ",
      "\u00a0",
      "\u200b",
      "\ufeff",
      "'",
      '"',
    );
    const hostile = fc.tuple(fc.array(first, { minLength: 1, maxLength: 4 }), fc.string({ maxLength: 12 }));
    fc.assert(
      fc.property(hostile, ([begin, rest]) => {
        const [[shown = ""] = []] = read(csvRecord([csvText(begin.join("") + rest), "1"]));
        expect(shown).not.toMatch(/^[\s\u200b\ufeff]*[=+\-@＝＋－＠]/);
        expect(shown.endsWith(rest)).toBe(true);
      }),
      { numRuns: 500 },
    );
  });

  it("take numbers plain and nothing else for a number", () => {
    expect([csvNumber("-0.5"), csvNumber(12), csvNumber(null)]).toEqual(["-0.5", "12", ""]);
    for (const text of ["=1", "1e5", "NaN", "1,5", ""]) expect(() => csvNumber(text)).toThrow(RangeError);
  });
});

describe("delimited text", () => {
  it.each([
    ["a\tb\n1\t2\n", "\t"],
    ["a;b\n1,5;2\n", ";"],
    ["a,b\n1,2\n", ","],
    ['"x;y",b\n"p;q",2\n', ","],
    ["one column\nonly\n", ","],
  ])("of %j is delimited by %j", (text, delimiter) => {
    expect(delimiterOf(text)).toBe(delimiter);
  });

  it("ends lines with CR LF, LF or CR, and the last one without", () => {
    expect(read("a,b\r\nc,d\re,f\ng,")).toEqual([
      ["a", "b"],
      ["c", "d"],
      ["e", "f"],
      ["g", ""],
    ]);
    expect(read("")).toEqual([]);
    expect(read("a\n\nb")).toEqual([["a"], [""], ["b"]]);
  });
});
