import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  DATE_FORMS,
  type Notation,
  shownDate,
  typedDate,
  USUAL_NOTATION,
  withOwnNotation,
} from "#core/quantity/shown-text.ts";

const COMMA: Notation = { decimalSign: "comma", dateForm: "31.01.2026" };

describe("numbers of a text", () => {
  it.each([
    ["12.5 µm ± 0.4 µm", "12,5 µm ± 0,4 µm"],
    ["−0.67 % of 1.25", "−0,67 % of 1,25"],
    ["k = 2.00; (3.5 to 4.5)", "k = 2,00; (3,5 to 4,5)"],
    ["between 0.5 and 1.5.", "between 0,5 and 1,5."],
    ["40×/0.65", "40×/0,65"],
    ["10.5×", "10,5×"],
    // Names, versions, clauses and addresses are no numbers.
    ["version 0.2.0", "version 0.2.0"],
    ["SI Brochure, 5.4.4", "SI Brochure, 5.4.4"],
    ["127.0.0.1", "127.0.0.1"],
    ["lot-1.5", "lot-1.5"],
    ["A1.5", "A1.5"],
    ["ISO 8039:2014 5.2; 0.5 % at most", "ISO 8039:2014 5.2; 0,5 % at most"],
    ["ISO/IEC 17025:2017, 6.4 and 6.5, from memory", "ISO/IEC 17025:2017, 6.4 and 6.5, from memory"],
    ["good to 20 % (JCGM 100:2008 G.4.2), 12.5", "good to 20 % (JCGM 100:2008 G.4.2), 12,5"],
    ["VIM 2.39", "VIM 2.39"],
    ["SIL Open Font License 1.1", "SIL Open Font License 1.1"],
    ["/home/x/1.5/y", "/home/x/1.5/y"],
    ["bench-1.5.sqlite", "bench-1.5.sqlite"],
  ])("%s is shown as %s with a comma", (text, shown) => {
    expect(withOwnNotation(text, COMMA)).toBe(shown);
  });

  it("stay where the sign is the point, whatever the text", () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(withOwnNotation(text, USUAL_NOTATION)).toBe(text);
      }),
    );
  });

  it("are the same numbers: read back with either mark", () => {
    fc.assert(
      fc.property(fc.nat(), fc.nat(999), (whole, part) => {
        const text = `${whole}.${part}`;
        expect(withOwnNotation(text, COMMA).replace(",", ".")).toBe(text);
      }),
    );
  });
});

describe("dates", () => {
  it.each([
    ["2026-01-31", "2026-01-31"],
    ["31.01.2026", "31.01.2026"],
    ["31/01/2026", "31/01/2026"],
    ["31 Jan 2026", "31 Jan 2026"],
    ["Jan 31, 2026", "Jan 31, 2026"],
  ] as const)("in the form %s", (dateForm, text) => {
    expect(shownDate("due 2026-01-31 14:05", { ...COMMA, dateForm })).toBe(`due ${text} 14:05`);
  });

  it("are read in the form they are shown in, and as the record has them", () => {
    const days = fc.date({
      min: new Date("1990-01-01"),
      max: new Date("2089-12-31"),
      noInvalidDate: true,
    });
    fc.assert(
      fc.property(fc.constantFrom(...DATE_FORMS), days, (dateForm, day) => {
        const iso = day.toISOString().slice(0, 10);
        const notation = { ...COMMA, dateForm };
        expect(typedDate(shownDate(iso, notation), notation)).toBe(iso);
        expect(typedDate(iso, notation)).toBe(iso);
        expect(typedDate(iso.replaceAll("-", ""), notation)).toBe(iso);
      }),
    );
  });

  it("in another order stay as typed, to be refused at their field", () => {
    expect(typedDate("01/31/2026", { ...COMMA, dateForm: "31.01.2026" })).toBe("01/31/2026");
    expect(typedDate("31.1.2026", USUAL_NOTATION)).toBe("31.1.2026");
    expect(typedDate("31.1.2026", COMMA)).toBe("2026-01-31");
  });
});
