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
  // Of a working factor the exact one: what was rounded on purpose is no change.
  const exact = before.working ?? before;
  return {
    factor: decimalOfText("earlier.factor", exact.factor),
    standardUncertainty: decimalOfText("earlier.standardUncertainty", exact.standardUncertainty),
    commonUncertainty: decimalOfText("earlier.commonUncertainty", exact.commonUncertainty),
    sameMicrometer,
  };
}
