import { expect, it } from "vitest";
import { countedNoun } from "#core/quantity/counted-noun.ts";

it.each([
  [0, "0 rows"],
  [1, "1 row"],
  [2, "2 rows"],
  [21, "21 rows"],
])("%i reads %s", (number, words) => {
  expect(countedNoun(number, "row")).toBe(words);
});

it("makes the rest of the phrase agree", () => {
  expect(countedNoun(1, "entry needs", "entries need")).toBe("1 entry needs");
  expect(countedNoun(3, "entry needs", "entries need")).toBe("3 entries need");
});
