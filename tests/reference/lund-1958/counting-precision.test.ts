import { COUNTING_PRECISION, LUND_SHORTCUT } from "#core/selftest/cases/counting-precision.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Objects to count for a wanted precision", COUNTING_PRECISION);
checkCases("Lund, Kipling and Le Cren 1958: 2/√n", LUND_SHORTCUT);
