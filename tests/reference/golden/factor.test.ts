import { AGREEMENT_CASES, FIVE_SETTINGS_CASES } from "#core/selftest/cases/factor-comparisons.ts";
import { FACTOR_BUDGET_CASES, TEN_SPANS_CASES } from "#core/selftest/cases/factor-golden.ts";
import { CERTIFICATE_TABLE_CASES } from "#core/selftest/cases/reticle-arithmetic.ts";
import { checkCases } from "../../support/check-cases.ts";

// All inputs here are invented; the values were computed from the stated formula by other programs.
checkCases("Ten settings, whole budget", FACTOR_BUDGET_CASES);
checkCases("Ten spans, line through the origin", TEN_SPANS_CASES);
checkCases("Five settings, mean of ratios", FIVE_SETTINGS_CASES);
checkCases("Certified table, interpolated", CERTIFICATE_TABLE_CASES);
checkCases("Agreement and conformity", AGREEMENT_CASES);
