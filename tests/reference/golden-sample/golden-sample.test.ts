import { GOLDEN_PARTICLE_SIZES } from "#core/selftest/cases/golden-particle-sizes.ts";
import { GOLDEN_SAMPLE } from "#core/selftest/cases/golden-sample.ts";
import { MOMENT_MEANS } from "#core/selftest/cases/moment-means.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("thirty invented diameters", GOLDEN_SAMPLE);
checkCases("thirty invented diameters as particles", GOLDEN_PARTICLE_SIZES);
checkCases("moment means, quartiles", MOMENT_MEANS);
