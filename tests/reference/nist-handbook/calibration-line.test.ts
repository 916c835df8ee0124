import { CALIBRATION_LINES } from "#core/selftest/cases/calibration-lines.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Calibration lines with an intercept", CALIBRATION_LINES);
