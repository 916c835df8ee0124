import { NEWCOMBE_PROPORTIONS } from "#core/selftest/cases/newcombe-1998.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Newcombe 1998, Table I: limits of a proportion", NEWCOMBE_PROPORTIONS);
