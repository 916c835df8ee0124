import { JCGM_100_SAMPLES } from "#core/selftest/cases/jcgm-100-samples.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("JCGM 100:2008: Table 1, H.3 and H.5", JCGM_100_SAMPLES);
