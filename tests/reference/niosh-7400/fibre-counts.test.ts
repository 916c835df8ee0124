import { FIBRE_COUNTS, FIBRE_METHOD_FIGURES, FIBRE_STRICTNESS } from "#core/selftest/cases/fibre-counts.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("NIOSH 7400: fibre densities and recounts", FIBRE_COUNTS);
checkCases("Figures that fibre methods print", FIBRE_METHOD_FIGURES);
checkCases("Fibre rules at their limits", FIBRE_STRICTNESS);
