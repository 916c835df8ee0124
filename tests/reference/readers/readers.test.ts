import { READERS } from "#core/selftest/cases/readers.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("readers and sample sizes", READERS);
