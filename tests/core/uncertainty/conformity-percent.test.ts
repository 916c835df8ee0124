import { expect, it } from "vitest";
import { conformityPercent } from "#core/uncertainty/conformity.ts";

it.each([
  [1, "99.9 %"],
  [0.99999, "99.9 %"],
  [0.9994, "99.9 %"],
  [0.95, "95.0 %"],
  [0.9499, "94.9 %"],
  [0.0005, "< 0.1 %"],
  [0, "< 0.1 %"],
])("a probability of %d is printed as %s: no measurement is certain", (probability, words) => {
  expect(conformityPercent(probability)).toBe(words);
});
