import fc from "fast-check";
import { expect, it } from "vitest";
import { partsOf } from "#renderer/screens/measure/blocks/parts-of-text.ts";

it("a pasted text goes over in parts that cut no character, whatever it holds", () => {
  const text = fc.string({ unit: "grapheme", maxLength: 200 }).map((one) => one.toWellFormed());
  fc.assert(
    fc.property(text, fc.integer({ min: 2, max: 30 }), (whole, most) => {
      const parts = partsOf(whole, most);
      expect(parts.join("")).toBe(whole);
      for (const part of parts) {
        expect(part.isWellFormed()).toBe(true);
        expect(part.length).toBeLessThanOrEqual(most);
        expect(part.length).toBeGreaterThan(0);
      }
    }),
  );
  expect(partsOf("a😀b", 2)).toEqual(["a", "😀", "b"]);
});
