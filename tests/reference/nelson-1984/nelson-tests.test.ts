import { NELSON_TESTS } from "#core/selftest/cases/nelson-tests.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Nelson's eight tests", NELSON_TESTS);
