import { ROUNDING_RULE_CASES } from "#core/selftest/cases/rounding-rules.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases(
  "Rounding: NIST SP 811 B.7.1, JCGM 100:2008 7.2.6, ISO 80000-1 Annex B",
  ROUNDING_RULE_CASES.filter(({ id }) => !id.startsWith("ea-4-02")),
);
