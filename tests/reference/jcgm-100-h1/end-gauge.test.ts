import { GUM_END_GAUGE, GUM_HARDNESS } from "#core/selftest/cases/gum-uncertainty.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("JCGM 100:2008 H.1, an end gauge", GUM_END_GAUGE);
checkCases("JCGM 100:2008 H.6, hardness of a block", GUM_HARDNESS);
