import { DERIVED_CASES, PLANNING_CASES } from "#core/selftest/cases/derived-golden.ts";
import { OPTICS_CASES } from "#core/selftest/cases/optics-golden.ts";
import { SIZE_BUDGET_CASES } from "#core/selftest/cases/size-golden.ts";
import { checkCases } from "../../support/check-cases.ts";

// All inputs here are invented; the values were computed from the stated formula by other programs.
checkCases("One specimen, whole budget", SIZE_BUDGET_CASES);
checkCases("Ratio, difference and area by one factor", DERIVED_CASES);
checkCases("Divisions needed, mean length, depth", PLANNING_CASES);
checkCases("Nominal factor, field of view, resolution, areas", OPTICS_CASES);
