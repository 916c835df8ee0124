import { COVERAGE_TABLES } from "#core/selftest/cases/coverage-tables.ts";
import { ROUNDING_RULE_CASES } from "#core/selftest/cases/rounding-rules.ts";
import { checkCases } from "../../support/check-cases.ts";

const ofThisSource = ({ id }: { readonly id: string }): boolean => id.startsWith("ea-4-02");

checkCases("EA-4/02, coverage factors for 95.45 %", COVERAGE_TABLES.filter(ofThisSource));
checkCases("EA-4/02, rounding of an expanded uncertainty", ROUNDING_RULE_CASES.filter(ofThisSource));
