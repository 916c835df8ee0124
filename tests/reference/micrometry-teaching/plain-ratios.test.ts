import { TEACHING_PAGES } from "#core/selftest/cases/reticle-arithmetic.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Published micrometry arithmetic", TEACHING_PAGES);
