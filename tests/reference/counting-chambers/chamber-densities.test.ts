import { CHAMBER_DENSITIES, HAEMOCYTOMETER_TEXTS } from "#core/selftest/cases/chamber-densities.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Densities in counting chambers", CHAMBER_DENSITIES);
checkCases("Haemocytometer teaching texts", HAEMOCYTOMETER_TEXTS);
