import { expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { NIST_STRD_ANOVA, NIST_STRD_REGRESSION } from "#core/selftest/cases/nist-strd-fits.ts";
import { NIST_STRD_UNIVARIATE } from "#core/selftest/cases/nist-strd-univariate.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("NIST StRD, univariate summary statistics", NIST_STRD_UNIVARIATE);
checkCases("NIST StRD, linear regression", NIST_STRD_REGRESSION);
checkCases("NIST StRD, analysis of variance", NIST_STRD_ANOVA);

it("reaches every certified digit: log relative error of 14 or more throughout", () => {
  const cases = [...NIST_STRD_UNIVARIATE, ...NIST_STRD_REGRESSION, ...NIST_STRD_ANOVA];
  const reached = cases.map(({ what, expected, got }) => {
    const certified = decimal(expected);
    const off = decimal(got()).minus(certified).abs().div(certified.abs());
    // Certified values carry at most 15 digits; NIST counts a complete agreement as 15.
    return { what, digits: off.isZero() ? 15 : Math.min(15, -off.log().toNumber()) };
  });
  const worst = reached.reduce((a, b) => (b.digits < a.digits ? b : a));
  console.log(reached.map(({ what, digits }) => `${digits.toFixed(1).padStart(5)}  ${what}`).join("\n"));
  console.log(`least log relative error: ${worst.digits.toFixed(2)} (${worst.what})`);
  expect(worst.digits).toBeGreaterThan(14);
});
