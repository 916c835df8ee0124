import { expect, it } from "vitest";
import { printedNumber, trueMinus } from "#core/quantity/printed-number.ts";

// Groups of three from five digits on, none for four: BIPM, SI Brochure, 9th edition (2019), 5.4.4, which prints
// 43 279.168 29 and 3279.1683; digits behind the point are left together here.
it.each([
  ["-0.067", "−0.067"],
  ["25.31 ± 0.42", "25.31 ± 0.42"],
  ["-381 to 863", "−381 to 863"],
  ["20000 rows", "20\u2009000 rows"],
  ["1234567.891", "1\u2009234\u2009567.891"],
  ["3279.1683", "3279.1683"],
  ["0.123456", "0.123456"],
  ["S-0001 of 2026-03-02", "S-0001 of 2026-03-02"],
])("%s is printed as %s", (text, printed) => {
  expect(printedNumber(text)).toBe(printed);
});

it("a true minus alone leaves digits, dates and names as they are", () => {
  expect(trueMinus("S-0001, -12345.6 % on 2026-03-02")).toBe("S-0001, −12345.6 % on 2026-03-02");
});
