import fc from "fast-check";
import { expect, it } from "vitest";
import { canonicalJson } from "#main/store/canonical-json.ts";
import { nameKey } from "#main/store/name-key.ts";

it("writes equal values alike, whatever the order of their keys", () => {
  expect(canonicalJson({ b: 1, a: [{ d: null, c: "ü" }] })).toBe('{"a":[{"c":"ü","d":null}],"b":1}');
  fc.assert(
    fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (value) => {
      const turned = Object.fromEntries(Object.entries(value).reverse());
      expect(canonicalJson(turned)).toBe(canonicalJson(value));
    }),
  );
});

it("writes JSON that reads back the same", () => {
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
    }),
  );
});

it("takes names that differ in case, width or spacing for the same, and no others", () => {
  expect(nameKey(" Ada  EXAMPLE ")).toBe(nameKey("ada example"));
  expect(nameKey("Ａda")).toBe(nameKey("ada"));
  expect(nameKey("Ada")).not.toBe(nameKey("Ade"));
  expect(nameKey("ab", "c")).not.toBe(nameKey("a", "bc"));
});
