import { EGG_COUNTS, GRAIN_SIZE, ROOT_TWO_CIRCLES } from "#core/selftest/cases/bench-formulas.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Eggs per gram", EGG_COUNTS);
checkCases("ASTM E112: grain size", GRAIN_SIZE);
checkCases("Circles growing by √2", ROOT_TWO_CIRCLES);
