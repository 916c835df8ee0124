import { calibrate } from "../calibration/calibrate.ts";
import { readCalibration } from "../calibration/typed-calibration.ts";
import type { CalibrationRecord, FactorRecord } from "../contract/records/calibration.ts";
import type { MethodDefinition } from "../contract/records/method.ts";
import type { Measurement } from "../contract/records/sheet.ts";
import type { Certificate, StageMicrometer } from "../contract/records/stage-micrometer.ts";
import { type Decimal, decimal, sumOf } from "../quantity/decimal.ts";
import { textOfDecimal } from "../quantity/decimal-text.ts";
import { roundToSignificant } from "../quantity/rounding.ts";
import { completeReadings, isInParts, readingsOf } from "./readings.ts";
import { sizeOfReadings, sizeRecordOf } from "./typed-reading.ts";

/** Digits of a number to be typed into a pocket calculator: more than any result keeps, few enough to type. */
const DIGITS = 8;

function shown(value: Decimal): string {
  return roundToSignificant(value, DIGITS).toFixed();
}

/**
 * What a product must still be multiplied by to give a result, such as for the angle between object and scale; null for
 * exactly 1. Divisions in decimals of finite length leave some 1e-33.
 */
export function ratioBeside(result: Decimal, plain: Decimal): Decimal | null {
  if (plain.isZero()) return null;
  const ratio = result.div(plain);
  return ratio.minus(1).abs().lessThan("1e-20") ? null : ratio;
}

/** One contribution to U: the input's u, how the size follows it, their product (µm) and its square (µm²). */
export interface HandContribution {
  readonly key: string;
  readonly name: string;
  readonly u: string;
  readonly unit: string;
  readonly sensitivity: string;
  readonly contribution: string;
  readonly square: string;
}

/** One setting of the calibration: certified length L (µm), reticle interval D (div), and what is summed of them. */
export interface HandSetting {
  readonly number: number;
  readonly nominal: string;
  readonly correction: string;
  readonly length: string;
  readonly divisions: string;
  /** L², µm², and L·D, µm·div; for the mean of ratios L/D, µm/div, alone. */
  readonly square: string;
  readonly product: string;
  readonly ratio: string;
}

/** A size of two numbers and its U, in the digits that a reviewer types into a pocket calculator. */
export interface SizeByHand {
  /** Each complete reading, `51.5 − 23.0`; null: read directly. */
  readonly readings: readonly { readonly working: string | null; readonly divisions: string }[];
  /** What several readings are taken together as; null: there is one. */
  readonly together: "mean of the readings" | "sum of the parts" | null;
  /** The reading, or what several are together, div. */
  readonly divisions: string;
  readonly factor: string;
  /** Size over divisions × factor: what the angle between object and scale adds; null where it is exactly 1. */
  readonly alignment: string | null;
  readonly size: string;
  readonly contributions: readonly HandContribution[];
  /** Σ of the squares, µm², and its root u_c, µm. */
  readonly sumOfSquares: string;
  readonly standardUncertainty: string;
  /** null: infinite. */
  readonly degreesOfFreedom: string | null;
  readonly coverageFactor: string;
  readonly expandedUncertainty: string;
  readonly shownValue: string;
  readonly shownUncertainty: string;
  /** True when what was recorded agrees with this in every digit. */
  readonly agrees: boolean;
}

/**
 * The steps from the readings to size ± U as they can be followed with a pocket calculator (JCGM 100:2008 5.1.2 for the
 * sum of squares, 6.2.1 for U = k·u_c, 7.2.6 for the digits).
 * @returns null where there is no size to be recomputed
 * @throws InputError for a stored reading or factor that cannot be read
 */
export function sizeByHand(
  measurement: Measurement,
  factor: FactorRecord,
  definition: Pick<MethodDefinition, "dimensions" | "reading" | "coverage" | "rounding">,
): SizeByHand | null {
  const complete = completeReadings(readingsOf(measurement));
  if (complete.length === 0 || measurement.size === null) return null;
  const result = sizeOfReadings(complete, factor, { dimension: measurement.dimension, definition });
  const record = sizeRecordOf(result, definition.rounding);
  const alignment = ratioBeside(result.size, result.divisions.times(factor.factor));
  const { uncertainty } = result;
  const several = isInParts(definition, measurement.dimension) ? "sum of the parts" : "mean of the readings";
  return {
    readings: complete.map(({ left, right }) => {
      const [from, to] = left.greaterThan(right) ? [right, left] : [left, right];
      const working = measurement.entry === "direct" ? null : `${to.toFixed()} − ${from.toFixed()}`;
      return { working, divisions: textOfDecimal(to.minus(from)) };
    }),
    together: complete.length === 1 ? null : several,
    divisions: shown(result.divisions),
    factor: shown(decimal(factor.factor)),
    alignment: alignment && shown(alignment),
    size: shown(result.size),
    contributions: result.budget.map((line) => ({
      key: line.key,
      name: line.name,
      u: shown(line.standardUncertainty),
      unit: line.unit,
      sensitivity: shown(line.sensitivity),
      contribution: shown(line.contribution),
      square: shown(line.contribution.pow(2)),
    })),
    sumOfSquares: shown(uncertainty.standard.pow(2)),
    standardUncertainty: shown(uncertainty.standard),
    degreesOfFreedom: uncertainty.degreesOfFreedom && shown(uncertainty.degreesOfFreedom),
    coverageFactor: shown(uncertainty.coverageFactor),
    expandedUncertainty: shown(uncertainty.expanded),
    shownValue: record.shownValue,
    shownUncertainty: record.shownUncertainty,
    agrees: JSON.stringify(record) === JSON.stringify(measurement.size),
  };
}

/** A factor from the settings as typed and the certificate's table, in the digits of a pocket calculator. */
export interface FactorByHand {
  readonly estimator: CalibrationRecord["estimator"];
  readonly settings: readonly HandSetting[];
  /** ΣL², ΣL·D and Σ(L/D). */
  readonly sums: { readonly square: string; readonly product: string; readonly ratio: string };
  /** ΣL²/ΣL·D, or the mean of L/D, before temperature and angle, µm/div. */
  readonly plain: string;
  /** What temperature and the angle of the scales multiply it by; null where it is exactly 1. */
  readonly conditions: string | null;
  readonly exact: string;
  /** The rounded working factor put in force in its place; null where the exact one is in force. */
  readonly working: string | null;
}

/**
 * The factor of a calibration step by step: f = ΣL²/ΣL·D · conditions, or the mean of L/D · conditions; see `calibrate`.
 * @throws InputError for a stored setting, condition or certificate that cannot be read
 */
export function factorByHand(
  calibration: Pick<CalibrationRecord, "settings" | "conditions" | "estimator" | "coverage" | "result">,
  micrometer: Pick<StageMicrometer, "scaleLengthUm" | "divisions">,
  certificate: Certificate,
): FactorByHand {
  const input = readCalibration({
    ...calibration,
    scale: certificate,
    linePitchUm: textOfDecimal(decimal(micrometer.scaleLengthUm).div(micrometer.divisions)),
  });
  const result = calibrate(input);
  const parts = result.settings.map(({ interval, divisions, ratio }, index) => {
    const setting = input.settings[index];
    const nominal = setting ? setting.lineRight.minus(setting.lineLeft) : interval.length;
    return {
      nominal,
      length: interval.length,
      divisions,
      ratio,
      square: interval.length.pow(2),
      product: interval.length.times(divisions),
    };
  });
  const sum = (of: (part: (typeof parts)[number]) => Decimal): Decimal => sumOf(parts.map(of));
  const [square, product, ratio] = [
    sum((part) => part.square),
    sum((part) => part.product),
    sum((part) => part.ratio),
  ];
  const plain = calibration.estimator === "origin-regression" ? square.div(product) : ratio.div(parts.length);
  const conditions = ratioBeside(result.factor, plain);
  return {
    estimator: calibration.estimator,
    settings: parts.map((part, index) => ({
      number: index + 1,
      nominal: shown(part.nominal),
      correction: shown(part.length.minus(part.nominal)),
      length: shown(part.length),
      divisions: shown(part.divisions),
      square: shown(part.square),
      product: shown(part.product),
      ratio: shown(part.ratio),
    })),
    sums: { square: shown(square), product: shown(product), ratio: shown(ratio) },
    plain: shown(plain),
    conditions: conditions && shown(conditions),
    exact: shown(result.factor),
    working: calibration.result?.working ? shown(decimal(calibration.result.factor)) : null,
  };
}
