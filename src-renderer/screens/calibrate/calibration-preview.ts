import { earlierFactorOf } from "#core/calibration/assessment.ts";
import type { CalculationBasis } from "#core/calibration/calculation-basis.ts";
import { calibrate } from "#core/calibration/calibrate.ts";
import type { CalibrationInput, CalibrationResult, SettingResult } from "#core/calibration/calibration.ts";
import { type DetectiveReport, detect } from "#core/calibration/detective.ts";
import { limitsWith } from "#core/calibration/limits.ts";
import { type Linearity, linearityOf } from "#core/calibration/linearity.ts";
import { settingInterval } from "#core/calibration/setting-interval.ts";
import { readCalibration, readScale, readSetting } from "#core/calibration/typed-calibration.ts";
import { type EarlierFactor, type Verdict, verdictOf } from "#core/calibration/verdict.ts";
import type { CalibrationRecord, PooledRecord } from "#core/contract/records/calibration.ts";
import type { Microscope, Objective, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { objectivesOnTurret } from "#core/optics/turret.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { readDecimal, textOfDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { CHOSEN_REPEATABILITIES } from "#core/vocabulary/repeatability-origin.ts";
import type { CalibrationDraft } from "./calibration-draft.ts";
import { isBlankSetting, SETTING_KEYS } from "./settings-rows.ts";

/** What stands around the readings of one calibration. */
export interface CalibrationContext {
  readonly record: CalibrationRecord;
  readonly train: OpticalTrain;
  readonly microscope: Microscope;
  readonly objective: Objective;
  readonly micrometer: StageMicrometer;
  readonly certificate: Certificate;
  /** The calibration in force for this train before. */
  readonly earlier: CalibrationRecord | null;
  /** Of a draft what the service knows now of the person's settings; else what the record keeps. */
  readonly basis: CalculationBasis;
  /** What is known of the person's scatter, by origin. */
  readonly scatters: readonly PooledRecord[];
}

export interface CalibrationPreview {
  /** Why something typed cannot be taken, by field: `settings.0.lineRight`, `conditions.temperature`. */
  readonly problems: Readonly<Record<string, string>>;
  /** By row as shown: its part of the result; null while it is not complete. */
  readonly rows: readonly (SettingResult | null)[];
  readonly result: CalibrationResult | null;
  readonly linearity: Linearity | null;
  readonly verdict: Verdict | null;
  readonly detective: DetectiveReport | null;
}

/** Distance of neighbouring lines, µm. */
export function linePitch(micrometer: Pick<StageMicrometer, "scaleLengthUm" | "divisions">): Decimal {
  return decimal(micrometer.scaleLengthUm).div(micrometer.divisions);
}

/** Runs `work`; what it finds wrong with an input goes to `problems` and gives null. */
function noting<T>(problems: Record<string, string>, work: () => T): T | null {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    problems[error.field] ??= error.reason;
    return null;
  }
}

/**
 * The row as a setting; null while it is incomplete. Only what is typed is found fault with: an empty cell of a row
 * under way is no mistake.
 */
function isComplete(
  draft: CalibrationDraft,
  index: number,
  pitch: Decimal,
  certificate: Certificate,
  problems: Record<string, string>,
): boolean {
  const typed = draft.settings[index];
  if (!typed || isBlankSetting(typed)) return false;
  let isWhole = true;
  for (const key of SETTING_KEYS) {
    if (typed[key].trim() === "") isWhole = false;
    else if (noting(problems, () => readDecimal(`settings.${index}.${key}`, typed[key])) === null)
      isWhole = false;
  }
  if (!isWhole) return false;
  const fits = noting(problems, () =>
    settingInterval(readScale(certificate), readSetting(typed, index, pitch), index),
  );
  return fits !== null;
}

/** Everything that follows from what is typed so far, by the same functions that the service uses. */
export function previewCalibration(context: CalibrationContext, draft: CalibrationDraft): CalibrationPreview {
  const problems: Record<string, string> = {};
  const pitch = linePitch(context.micrometer);
  const whole = draft.settings.flatMap((_, index) =>
    isComplete(draft, index, pitch, context.certificate, problems) ? [index] : [],
  );
  const none = {
    rows: draft.settings.map(() => null),
    result: null,
    linearity: null,
    verdict: null,
    detective: null,
  };
  const input = noting(problems, () => inputFrom(context, draft, whole, pitch));
  if (whole.length === 0 || !input) {
    // Without a setting there is nothing to say about settings yet.
    delete problems.settings;
    return { ...none, problems };
  }
  const result = noting(problems, () => calibrate(input));
  if (!result) return { ...none, problems };
  const linearity = linearityOf(input.settings, result);
  return {
    problems,
    rows: draft.settings.map((_, index) => result.settings[whole.indexOf(index)] ?? null),
    result,
    linearity,
    verdict: verdictOf({
      result,
      linearity,
      nominal: decimal(context.train.nominalFactor),
      earlier: earlierFactor(context),
      limits: limitsWith(),
    }),
    detective: detectiveOf(context, result),
  };
}

/** The scatters of a person that are taken only where somebody asks for one. */
export function chosenScatters({ scatters }: CalibrationContext): readonly PooledRecord[] {
  return scatters.filter(({ origin }) => CHOSEN_REPEATABILITIES.some((one) => one === origin));
}

/** What somebody asked for holds while there is one setting only. */
function basisFor(context: CalibrationContext, draft: CalibrationDraft, settings: number): CalculationBasis {
  const chosen = draft.conditions.repeatability;
  if (context.record.state !== "draft" || chosen === undefined || settings !== 1) return context.basis;
  const pooled = context.scatters.find(({ origin }) => origin === chosen);
  return pooled ? { rule: 2, pooled } : context.basis;
}

function inputFrom(
  context: CalibrationContext,
  draft: CalibrationDraft,
  whole: readonly number[],
  pitch: Decimal,
): CalibrationInput {
  return readCalibration({
    settings: draft.settings.filter((_, index) => whole.includes(index)),
    conditions: draft.conditions,
    estimator: draft.estimator,
    coverage: draft.coverage,
    scale: context.certificate,
    linePitchUm: textOfDecimal(pitch),
    basis: basisFor(context, draft, whole.length),
  });
}

function earlierFactor({ earlier, micrometer }: CalibrationContext): EarlierFactor | null {
  const before = earlier?.result;
  if (!earlier || !before) return null;
  return earlierFactorOf(before, earlier.stageMicrometerId === micrometer.id);
}

function detectiveOf(context: CalibrationContext, result: CalibrationResult): DetectiveReport {
  const { train, objective, microscope } = context;
  return detect(
    result.factor,
    decimal(train.nominalFactor),
    decimal(objective.magnification),
    objectivesOnTurret(microscope.objectives).map((one) => ({
      name: `${one.magnification}×`,
      magnification: decimal(one.magnification),
    })),
  );
}
