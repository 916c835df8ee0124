import { R_POISSON_TEST } from "#core/selftest/cases/r-poisson-test.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("R poisson.test: rates and their ratio", R_POISSON_TEST);
