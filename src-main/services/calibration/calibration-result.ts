import { calibrate } from "#core/calibration/calibrate.ts";
import { factorRecordOf } from "#core/calibration/factor-record.ts";
import { readCalibration } from "#core/calibration/typed-calibration.ts";
import type { CalibrationRecord, FactorRecord } from "#core/contract/records/calibration.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";

/**
 * The factor of a calibration from nothing but what was typed and the certificate's stored table; used when it is put
 * in force and again whenever it is verified.
 * @throws InputError `settings`, `settings.N.<field>` or `conditions.<key>`
 */
export function factorFromTyped(
  typed: Pick<CalibrationRecord, "settings" | "conditions" | "estimator" | "coverage">,
  micrometer: Pick<StageMicrometer, "scaleLengthUm" | "divisions">,
  certificate: Certificate,
): FactorRecord {
  const input = readCalibration({
    settings: typed.settings,
    conditions: typed.conditions,
    estimator: typed.estimator,
    coverage: typed.coverage,
    scale: certificate,
    linePitchUm: textOfDecimal(decimal(micrometer.scaleLengthUm).div(micrometer.divisions)),
  });
  return factorRecordOf(calibrate(input));
}
