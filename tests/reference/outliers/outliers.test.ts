import { OUTLIERS } from "#core/selftest/cases/outliers.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("outliers and their critical values", OUTLIERS);
