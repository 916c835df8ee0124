import { TRADE_ARITHMETIC } from "#core/selftest/cases/reticle-arithmetic.ts";
import { TRADE_SIZES } from "#core/selftest/cases/size-golden.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Facts of the trade and plain ratios", TRADE_ARITHMETIC);
checkCases("Sizes from invented readings and factors", TRADE_SIZES);
