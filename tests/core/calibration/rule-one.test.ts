import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import { factorRecordOf } from "#core/calibration/factor-record.ts";
import { readCalibration, type TypedCalibration } from "#core/calibration/typed-calibration.ts";
import type { FactorRecord } from "#core/contract/records/calibration.ts";

interface Frozen {
  readonly what: string;
  readonly typed: TypedCalibration;
  readonly result: FactorRecord;
}

/** Results as the version before rule 2 froze them (commit f9a506b), from invented settings. */
const FROZEN: readonly Frozen[] = JSON.parse(
  readFileSync(new URL("factors-of-rule-one.json", import.meta.url), "utf8"),
);

it.each(FROZEN)("a factor frozen by rule 1 is recomputed to its last digit: $what", ({ typed, result }) => {
  expect(factorRecordOf(calibrate(readCalibration({ ...typed, basis: { rule: 1 } })))).toEqual(result);
});

it.each(FROZEN)(
  "by rule 2 the factor stays and U never shrinks with one setting: $what",
  ({ what, typed, result }) => {
    const now = factorRecordOf(calibrate(readCalibration(typed)));
    expect(now.factor).toBe(result.factor);
    expect(now.rule).toBe(2);
    if (what === "one setting")
      expect(Number(now.expandedUncertainty)).toBeGreaterThan(Number(result.expandedUncertainty));
  },
);
