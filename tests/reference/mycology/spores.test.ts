import { BAS_CLASSES, SPORE_NOTATION } from "#core/selftest/cases/spores.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Spore statistics and report string", SPORE_NOTATION);
checkCases("Bas 1969: quotient classes", BAS_CLASSES);
