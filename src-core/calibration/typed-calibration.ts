import type { NumericCondition, TypedConditions, TypedSetting } from "../contract/records/calibration.ts";
import type { Decimal } from "../quantity/decimal.ts";
import { decimalOfText, readDecimal } from "../quantity/decimal-text.ts";
import { requireCount, requireNotNegative, requirePositive } from "../quantity/input-error.ts";
import type { CoverageRule, FactorEstimator } from "../vocabulary/calibration.ts";
import { type CalculationBasis, readBasis } from "./calculation-basis.ts";
import type { CalibrationConditions, CalibrationInput, Setting } from "./calibration.ts";
import type { CertifiedScale } from "./certified-scale.ts";
import { requireConditions } from "./conditions.ts";
import { settingInterval } from "./setting-interval.ts";

/** A calibration as a person typed it, with the stored table of the stage micrometer. */
export interface TypedCalibration {
  readonly settings: readonly TypedSetting[];
  readonly conditions: TypedConditions;
  readonly estimator: FactorEstimator;
  readonly coverage: CoverageRule;
  /** Stored decimals, µm: the certificate's lines, its U of an interval, and k. */
  readonly scale: {
    readonly lines: readonly {
      readonly nominal: string;
      readonly error: string;
      readonly expandedUncertainty?: string | undefined;
    }[];
    readonly expandedUncertainty: string;
    readonly coverageFactor: string;
    /** Temperature of the certified values, °C; 20 °C when left out. */
    readonly temperature?: string;
    /** b of U = a + b·L, µm per mm. */
    readonly uncertaintyPerMm?: string | undefined;
    readonly degreesOfFreedom?: string | undefined;
  };
  /** Distance of neighbouring micrometer lines, µm, stored decimal. */
  readonly linePitchUm: string;
  /** The rule in use with the stated default when left out. */
  readonly basis?: CalculationBasis;
}

/** A pitch such as 1000/3 µm has no last digit; the line it leads to has: 3 · 333.33… is 1000. */
const POSITION_PLACES = 15;

function isBlank(setting: TypedSetting): boolean {
  return [setting.reticleLeft, setting.reticleRight, setting.lineLeft, setting.lineRight].every(
    (typed) => typed.trim() === "",
  );
}

/**
 * One setting as typed; micrometer lines are line numbers counted from 0 and become µm by the pitch.
 * @throws InputError `settings.N.<field>` for a number that cannot be read
 */
export function readSetting(typed: TypedSetting, index: number, linePitchUm: Decimal): Setting {
  const read = (key: keyof TypedSetting): Decimal =>
    readDecimal(`settings.${index}.${key}`, typed[key]).value;
  const position = (key: "lineLeft" | "lineRight"): Decimal =>
    requireNotNegative(`settings.${index}.${key}`, read(key))
      .times(linePitchUm)
      .toDecimalPlaces(POSITION_PLACES);
  return {
    reticleLeft: read("reticleLeft"),
    reticleRight: read("reticleRight"),
    lineLeft: position("lineLeft"),
    lineRight: position("lineRight"),
  };
}

/** @throws InputError `conditions.<key>` for a number that cannot be read or believed */
export function readConditions(typed: TypedConditions): CalibrationConditions {
  const read = (key: NumericCondition): Decimal => readDecimal(`conditions.${key}`, typed[key]).value;
  const conditions: CalibrationConditions = {
    temperature: read("temperature"),
    temperatureHalfWidth: read("temperatureHalfWidth"),
    expansion: read("expansion"),
    expansionHalfWidth: read("expansionHalfWidth"),
    micrometerDriftHalfWidth: read("micrometerDriftHalfWidth"),
    alignmentHalfAngle: read("alignmentHalfAngle"),
    fieldDistortionHalfWidth: read("fieldDistortionHalfWidth"),
    trainHalfWidth: read("trainHalfWidth"),
    trainDoubt: read("trainDoubt"),
    smallestFraction: read("smallestFraction"),
  };
  requireConditions(conditions);
  return conditions;
}

function optional(field: string, text: string | undefined): Decimal | undefined {
  return text === undefined ? undefined : decimalOfText(field, text);
}

/** The stored table of a certificate as decimals. */
export function readScale(scale: TypedCalibration["scale"]): CertifiedScale {
  return {
    lines: scale.lines.map((line, i) => ({
      nominal: decimalOfText(`scale.lines.${i}.nominal`, line.nominal),
      error: decimalOfText(`scale.lines.${i}.error`, line.error),
      expandedUncertainty: optional(`scale.lines.${i}.expandedUncertainty`, line.expandedUncertainty),
    })),
    expandedUncertainty: decimalOfText("scale.expandedUncertainty", scale.expandedUncertainty),
    coverageFactor: decimalOfText("scale.coverageFactor", scale.coverageFactor),
    uncertaintyPerUm: optional("scale.uncertaintyPerMm", scale.uncertaintyPerMm)?.div(1000),
    degreesOfFreedom: optional("scale.degreesOfFreedom", scale.degreesOfFreedom),
    ...(scale.temperature === undefined
      ? {}
      : { referenceTemperature: decimalOfText("scale.temperature", scale.temperature) }),
  };
}

/**
 * What a person typed, as the input of `calibrate`. Rows with all four cells empty are skipped; the fields named in
 * errors count rows as the person sees them. Preview and final calculation both start here.
 * @throws InputError `settings.N.<field>`, `conditions.<key>` or `settings` when there is no setting yet
 */
export function readCalibration(typed: TypedCalibration): CalibrationInput {
  const scale = readScale(typed.scale);
  const pitch = requirePositive("linePitchUm", decimalOfText("linePitchUm", typed.linePitchUm));
  const settings: Setting[] = [];
  typed.settings.forEach((row, index) => {
    if (isBlank(row)) return;
    const setting = readSetting(row, index, pitch);
    settingInterval(scale, setting, index);
    settings.push(setting);
  });
  requireCount("settings", settings, 1);
  return {
    settings,
    scale,
    conditions: readConditions(typed.conditions),
    estimator: typed.estimator,
    coverage: typed.coverage,
    ...readBasis(typed.basis),
  };
}
