import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { decimalOfText, readDecimal, textOfDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";

/** What a person may type for a number: sign, digits, point or comma, digits; up to 40 characters. */
const typedNumber = fc
  .tuple(
    fc.constantFrom("", "-", "−"),
    fc.stringMatching(/^[0-9]{0,15}$/),
    fc.option(fc.tuple(fc.constantFrom(".", ","), fc.stringMatching(/^[0-9]{0,15}$/)), { nil: null }),
  )
  .filter(([, whole, rest]) => whole !== "" || (rest !== null && rest[1] !== ""))
  .map(([sign, whole, rest]) => `${sign}${whole}${rest ? rest.join("") : ""}`);

describe("a number as typed", () => {
  it("keeps what was typed, its value, and its places, through text and back", () => {
    fc.assert(
      fc.property(typedNumber, (typed) => {
        const read = readDecimal("left", typed);
        expect(read.typed).toBe(typed);
        expect(decimalOfText("left", read.text).equals(read.value)).toBe(true);
        expect(readDecimal("left", read.text).text).toBe(read.text);
        expect(read.text.split(".")[1]?.length ?? 0).toBe(read.places);
      }),
    );
  });

  it("keeps every digit of a computed value through text and back", () => {
    fc.assert(
      fc.property(
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.integer({ min: 1, max: 99 }),
        (x, y) => {
          const value = decimal(x).div(y);
          expect(decimalOfText("value", textOfDecimal(value)).equals(value)).toBe(true);
        },
      ),
    );
  });

  it("tells 40 from 40.0", () => {
    expect(readDecimal("left", "40").places).toBe(0);
    expect(readDecimal("left", "40.0").places).toBe(1);
    expect(readDecimal("left", "40,0").text).toBe("40.0");
  });

  it.each([
    ["", "is empty"],
    ["   ", "is empty"],
    ["1e3", "without an exponent"],
    ["1.2.3", "more than one decimal mark"],
    ["1 000", "space"],
    ["12x", "“x”"],
    ["0x10", "“x”"],
    ["NaN", "“N”"],
    ["Infinity", "“I”"],
    [".", "is not a number"],
    ["--1", "is not a number"],
    ["9".repeat(41), "at most 40"],
    ["9".repeat(10_000), "at most 40"],
  ])("refuses %j and names the field", (typed, words) => {
    expect(() => readDecimal("settings.2.reticleRight", typed)).toThrow(InputError);
    expect(() => readDecimal("settings.2.reticleRight", typed)).toThrow(words);
    expect(() => readDecimal("settings.2.reticleRight", typed)).toThrow(/^settings\.2\.reticleRight: /);
  });

  it("never stores what is not a finite number", () => {
    expect(() => textOfDecimal(decimal("NaN"))).toThrow(InputError);
    expect(() => textOfDecimal(decimal("-Infinity"))).toThrow(InputError);
    expect(() => decimalOfText("factor", "1e3")).toThrow(InputError);
    expect(() => decimalOfText("factor", " 1")).toThrow(InputError);
  });
});
