import { SHARES_OF_SUMS } from "#core/selftest/cases/shares-of-sums.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Shares of a sum with exact limits, inside it and beside it", SHARES_OF_SUMS);
