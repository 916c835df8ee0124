import { FACTOR_HISTORY } from "#core/selftest/cases/factor-history.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("twelve calibrations of one train", FACTOR_HISTORY);
