import { GUM_END_GAUGE } from "#core/selftest/cases/gum-uncertainty.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("JCGM 100:2008 H.1, an end gauge", GUM_END_GAUGE);
