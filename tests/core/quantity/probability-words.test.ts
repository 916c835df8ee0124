import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { equalsProbability, probabilityWords } from "#core/quantity/probability-words.ts";

describe("a probability on screen and paper", () => {
  it.each([
    [0.0432, "0.043"],
    [0.001, "0.001"],
    [0.00099, "< 0.001"],
    [4.87889859140092e-26, "< 0.001"],
    [0, "< 0.001"],
    [0.995, "> 0.99"],
    [1, "1"],
  ])("%s reads %s", (p, words) => {
    expect(probabilityWords(p)).toBe(words);
  });

  it("is never a plain zero, and follows p in a sentence", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (p) => {
        expect(probabilityWords(p)).not.toMatch(/^0(\.0*)?$/);
        expect(equalsProbability(p)).toMatch(/^[=<>] /);
      }),
    );
  });
});
