import { GARWOOD_LIMITS } from "#core/selftest/cases/garwood-1936.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Garwood 1936: exact limits of a Poisson count", GARWOOD_LIMITS);
