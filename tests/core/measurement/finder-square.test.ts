import { describe, expect, it } from "vitest";
import { columnOfSquare, readFinderSquare } from "#core/measurement/finder-square.ts";
import { placeWords } from "#core/measurement/place-words.ts";

describe("the square of a finder slide (common practice, no source)", () => {
  it.each([
    ["M23", "M", 23],
    [" m23 ", "M", 23],
    ["AB7", "AB", 7],
    ["a007", "A", 7],
  ])("%s is read", (typed, letters, number) => {
    expect(readFinderSquare("square", typed)).toEqual({ letters, number });
  });

  it.each(["", "23", "M", "23M", "M 23", "ABC1", "M1234", "M2.3", "М23"])("“%s” is refused", (typed) => {
    expect(() => readFinderSquare("stage.square", typed)).toThrow(/^stage\.square: is no square/);
  });

  it("lies in the column that its letters count", () => {
    const columns = ["A", "Z", "AA", "AB", "BA"].map((letters) => columnOfSquare({ letters }));
    expect(columns).toEqual([1, 26, 27, 28, 53]);
  });
});

it.each([
  [{ x: "12.4", y: "101,5" }, "stage x 12.4, y 101,5"],
  [{ x: "-3", y: "" }, "stage x −3, y ?"],
  [{ x: "", y: "", square: "M23" }, "square M23"],
  [{ x: "1", y: "2", square: "M23" }, "stage x 1, y 2; square M23"],
])("a position is read out", (stage, words) => {
  expect(placeWords(stage)).toBe(words);
});
