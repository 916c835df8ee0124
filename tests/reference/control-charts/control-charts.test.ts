import {
  CHART_CONSTANTS,
  EN_SCORES,
  FACTOR_CHART,
  HANDBOOK_CHARTS,
} from "#core/selftest/cases/control-charts.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("NIST/SEMATECH e-Handbook 6.3: charts", HANDBOOK_CHARTS);
checkCases("constants of control charts", CHART_CONSTANTS);
checkCases("ten factors and an eleventh", FACTOR_CHART);
checkCases("E_n scores of gear diameters", EN_SCORES);
