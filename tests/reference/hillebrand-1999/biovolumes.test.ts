import { CELL_VOLUMES } from "#core/selftest/cases/biovolumes.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Cell volumes, biovolume and carbon", CELL_VOLUMES);
