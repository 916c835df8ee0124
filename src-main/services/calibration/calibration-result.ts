import { assessmentOf, earlierFactorOf } from "#core/calibration/assessment.ts";
import type { CalculationBasis } from "#core/calibration/calculation-basis.ts";
import { calibrate } from "#core/calibration/calibrate.ts";
import type { CalibrationInput } from "#core/calibration/calibration.ts";
import { factorRecordOf } from "#core/calibration/factor-record.ts";
import { limitsWith } from "#core/calibration/limits.ts";
import { linearityOf } from "#core/calibration/linearity.ts";
import { readCalibration } from "#core/calibration/typed-calibration.ts";
import { verdictOf } from "#core/calibration/verdict.ts";
import { withWorkingFactor } from "#core/calibration/working-factor.ts";
import type { Assessment } from "#core/contract/records/assessment.ts";
import type { CalibrationRecord, FactorRecord } from "#core/contract/records/calibration.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";

type Typed = Pick<CalibrationRecord, "settings" | "conditions" | "estimator" | "coverage">;
type Scale = Pick<StageMicrometer, "scaleLengthUm" | "divisions">;

function inputOf(
  typed: Typed,
  micrometer: Scale,
  certificate: Certificate,
  basis: CalculationBasis,
): CalibrationInput {
  return readCalibration({
    settings: typed.settings,
    conditions: typed.conditions,
    estimator: typed.estimator,
    coverage: typed.coverage,
    scale: certificate,
    linePitchUm: textOfDecimal(decimal(micrometer.scaleLengthUm).div(micrometer.divisions)),
    basis,
  });
}

/**
 * The factor of a calibration from nothing but what was typed, the certificate's stored table and the basis; used when
 * it is put in force and, with the basis that its record keeps, whenever it is verified. A record with a working factor
 * gives one rounded to the same places.
 * @throws InputError `settings`, `settings.N.<field>` or `conditions.<key>`
 */
export function factorFromTyped(
  typed: Typed & { readonly result?: { readonly working?: { readonly places: number } | undefined } | null },
  micrometer: Scale,
  certificate: Certificate,
  basis: CalculationBasis,
): FactorRecord {
  const exact = factorRecordOf(calibrate(inputOf(typed, micrometer, certificate, basis)));
  const places = typed.result?.working?.places;
  return places === undefined ? exact : withWorkingFactor(exact, places, typed.coverage);
}

/** What an assessment compares a calibration with. */
export interface AssessedAgainst {
  readonly nominalFactor: string;
  /** The factor this train had before; null: none. */
  readonly earlier: CalibrationRecord | null;
}

/**
 * The assessment of a calibration by the rule in use, from what was typed.
 * @throws InputError as `factorFromTyped`
 */
export function assessmentFromTyped(
  calibration: CalibrationRecord,
  micrometer: StageMicrometer,
  certificate: Certificate,
  basis: CalculationBasis,
  { nominalFactor, earlier }: AssessedAgainst,
): Assessment {
  const input = inputOf(calibration, micrometer, certificate, basis);
  const result = calibrate(input);
  const verdict = verdictOf({
    result,
    linearity: linearityOf(input.settings, result),
    nominal: decimal(nominalFactor),
    earlier: earlier?.result
      ? earlierFactorOf(earlier.result, earlier.stageMicrometerId === micrometer.id)
      : null,
    limits: limitsWith(),
  });
  return assessmentOf(verdict, earlier?.id ?? null);
}
