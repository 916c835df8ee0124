import { describe, expect, it } from "vitest";
import { z } from "zod";
import {
  decimalAsTyped,
  numberAsTyped,
  optionalDecimal,
  typedCount,
  typedDecimal,
} from "#core/contract/records/typed-number.ts";

const POSITIVE = { sign: "positive", most: 100 } as const;

describe("numbers that a call takes as typed", () => {
  it.each([
    ["in its shortest text", typedDecimal(POSITIVE), "40,50", "40.5"],
    ["none where nothing was typed", optionalDecimal(POSITIVE), " ", null],
    ["with the digits typed", decimalAsTyped({ least: -50, most: 100 }), "-20,50", "-20.50"],
    ["as it stands", numberAsTyped({ optional: true, ...POSITIVE }), "40,0", "40,0"],
    ["as a whole number", typedCount(200), "100", 100],
    ["at its upper end", typedDecimal(POSITIVE), "100", "100"],
  ])("%s", (_, schema: z.ZodType, typed, read) => {
    expect(schema.parse(typed)).toBe(read);
  });

  it.each([
    [typedDecimal(POSITIVE), "0", "must be greater than zero"],
    [typedDecimal(POSITIVE), "100.1", "is too large: at most 100"],
    [typedDecimal(POSITIVE), "", "is empty: type a number"],
    [typedDecimal(POSITIVE), "1e2", "must be written out, without an exponent"],
    [optionalDecimal(POSITIVE), "-1", "must be greater than zero"],
    [decimalAsTyped({ least: -50, most: 100 }), "-51", "must lie between -50 and 100"],
    [typedCount(200), "2.5", "must be a whole number from 1 to 200"],
    [typedCount(200), "201", "must be a whole number from 1 to 200"],
    [numberAsTyped({ sign: "not negative" }), "-0.1", "must not be negative"],
    [numberAsTyped({ least: 30 }), "3", "is too small: at least 30"],
    [typedDecimal(POSITIVE), "1".repeat(41), "is too long: a number may have at most 40 characters"],
  ])("is refused at its field: %#", (schema: z.ZodType, typed, reason) => {
    const parsed = z.strictObject({ field: schema }).safeParse({ field: typed });
    expect(parsed.error?.issues).toMatchObject([{ path: ["field"], message: reason }]);
  });
});
