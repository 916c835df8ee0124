import type { Assessment } from "../contract/records/assessment.ts";
import type { FactorRecord } from "../contract/records/calibration.ts";
import { decimalOfText } from "../quantity/decimal-text.ts";
import { ASSESSMENT_RULE } from "../vocabulary/rules.ts";
import type { EarlierFactor, Verdict } from "./verdict.ts";

/** A verdict as the text record that is kept. */
export function assessmentOf(verdict: Verdict, earlierId: string | null): Assessment {
  const { outcome, single, remarks } = verdict;
  return {
    rule: ASSESSMENT_RULE,
    earlierId,
    outcome,
    single,
    findings: verdict.findings.map(({ key, name, state, words }) => ({ key, name, state, words })),
    remarks: [...remarks],
  };
}

/** The factor before, as the verdict compares with it. */
export function earlierFactorOf(before: FactorRecord, sameMicrometer: boolean): EarlierFactor {
  return {
    factor: decimalOfText("earlier.factor", before.factor),
    standardUncertainty: decimalOfText("earlier.standardUncertainty", before.standardUncertainty),
    commonUncertainty: decimalOfText("earlier.commonUncertainty", before.commonUncertainty),
    sameMicrometer,
  };
}
