import type { FactorRecord, PooledRecord } from "../contract/records/calibration.ts";
import type { CheckResult } from "../contract/records/check.ts";
import { type Decimal, decimal } from "../quantity/decimal.ts";
import { decimalOfText, textOfDecimal } from "../quantity/decimal-text.ts";
import { intermediateCheck } from "./agreement.ts";
import { exactFactorOf } from "./working-factor.ts";

/** u of a factor whose repeatability rule 1 left out, with the pooled one of one setting over its span put in. */
function withRepeatability(
  record: FactorRecord,
  standard: Decimal,
  pooled: PooledRecord | undefined,
): Decimal {
  const line = record.budget.find((one) => one.key === "repeatability");
  const isLeftOut = line?.degreesOfFreedom === null && line.standardUncertainty === "0";
  if (!isLeftOut || !pooled) return standard;
  const scatter = decimal(pooled.deviation).div(record.span).times(record.factor);
  return standard.pow(2).plus(scatter.pow(2)).sqrt();
}

/**
 * A quick check against the factor in force, µm/div: |f_check − f| ≤ 2·√(u² + u_check²). With the same certificate only
 * what is fresh on each occasion enters the limit, since the error of the certificate is in both factors; with another
 * one the whole of both uncertainties does. About one check in twenty of an unchanged train fails by chance. Our own
 * rule, built on JCGM 100:2008 F.1.2.3.
 * @throws InputError when a factor or uncertainty is not usable
 */
export function checkResultOf(
  inForce: FactorRecord,
  check: FactorRecord,
  sameCertificate: boolean,
): CheckResult {
  const part = sameCertificate ? "occasionUncertainty" : "standardUncertainty";
  // A working factor is rounded on purpose: a check is held against the exact one.
  const of = (record: FactorRecord) => {
    const exact = exactFactorOf(record);
    return {
      factor: decimalOfText("factor", exact.factor),
      standardUncertainty: withRepeatability(record, decimalOfText(part, exact[part]), check.pooled),
    };
  };
  const before = of(inForce);
  const now = of(check);
  const { limit, ratio, passed } = intermediateCheck(before, now);
  const difference = now.factor.minus(before.factor);
  return {
    factor: check.factor,
    factorInForce: exactFactorOf(inForce).factor,
    difference: textOfDecimal(difference),
    relativeDifference: textOfDecimal(difference.div(before.factor)),
    limit: textOfDecimal(limit),
    ratio: textOfDecimal(ratio),
    compared: sameCertificate ? "occasion" : "whole",
    passed,
    ...(check.pooled ? { pooled: check.pooled } : {}),
  };
}
