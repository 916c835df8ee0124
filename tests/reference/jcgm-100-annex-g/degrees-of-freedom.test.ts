import { COVERAGE_TABLES } from "#core/selftest/cases/coverage-tables.ts";
import { GUM_WELCH_SATTERTHWAITE } from "#core/selftest/cases/gum-uncertainty.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("JCGM 100:2008 G.4.1, effective degrees of freedom", GUM_WELCH_SATTERTHWAITE);
checkCases(
  "JCGM 100:2008 Table G.2, coverage factors",
  COVERAGE_TABLES.filter(({ id }) => !id.startsWith("ea-4-02")),
);
