import { EA_4_02_BUDGETS } from "#core/selftest/cases/ea-4-02-budgets.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Gauge block and caliper of EA-4/02", EA_4_02_BUDGETS);
