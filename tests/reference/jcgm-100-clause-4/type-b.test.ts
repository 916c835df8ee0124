import { GUM_TYPE_B } from "#core/selftest/cases/gum-uncertainty.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("JCGM 100:2008 4.3 and 4.4, Type B evaluations", GUM_TYPE_B);
