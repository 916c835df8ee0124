import { NIST_HANDBOOK_FULL, NIST_HANDBOOK_SAMPLES } from "#core/selftest/cases/nist-handbook-samples.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("NIST/SEMATECH e-Handbook, as printed", NIST_HANDBOOK_SAMPLES);
checkCases("NIST/SEMATECH e-Handbook, its data to full precision", NIST_HANDBOOK_FULL);
