import { AIAG_MSA } from "#core/selftest/cases/aiag-msa.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("AIAG Measurement Systems Analysis, crossed study", AIAG_MSA);
