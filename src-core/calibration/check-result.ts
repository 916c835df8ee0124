import type { FactorRecord } from "../contract/records/calibration.ts";
import type { CheckResult } from "../contract/records/check.ts";
import { decimalOfText, textOfDecimal } from "../quantity/decimal-text.ts";
import { intermediateCheck } from "./agreement.ts";

/**
 * A quick check against the factor in force, µm/div: |f_check − f| ≤ 2·√(u² + u_check²). With the same certificate only
 * what is fresh on each occasion enters the limit, since the error of the certificate is in both factors; with another
 * one the whole of both uncertainties does. Our own rule, built on JCGM 100:2008 F.1.2.3.
 * @throws InputError when a factor or uncertainty is not usable
 */
export function checkResultOf(
  inForce: FactorRecord,
  check: FactorRecord,
  sameCertificate: boolean,
): CheckResult {
  const part = sameCertificate ? "occasionUncertainty" : "standardUncertainty";
  const of = (record: FactorRecord) => ({
    factor: decimalOfText("factor", record.factor),
    standardUncertainty: decimalOfText(part, record[part]),
  });
  const before = of(inForce);
  const now = of(check);
  const { limit, ratio, passed } = intermediateCheck(before, now);
  const difference = now.factor.minus(before.factor);
  return {
    factor: check.factor,
    factorInForce: inForce.factor,
    difference: textOfDecimal(difference),
    relativeDifference: textOfDecimal(difference.div(before.factor)),
    limit: textOfDecimal(limit),
    ratio: textOfDecimal(ratio),
    compared: sameCertificate ? "occasion" : "whole",
    passed,
  };
}
