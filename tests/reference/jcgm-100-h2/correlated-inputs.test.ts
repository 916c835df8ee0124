import { GUM_CORRELATED } from "#core/selftest/cases/gum-correlated.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("JCGM 100:2008 H.2, correlated inputs and outputs", GUM_CORRELATED);
