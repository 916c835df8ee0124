import type { CalibrationRecord, FactorRecord } from "../contract/records/calibration.ts";
import type { MethodDefinition } from "../contract/records/method.ts";
import type { Microscope, Objective, OpticalTrain } from "../contract/records/microscope.ts";
import type { RepeatReading, SizeRecord } from "../contract/records/sheet.ts";
import { isEnded } from "../optics/turret.ts";
import { type Decimal, decimal } from "../quantity/decimal.ts";
import { readDecimal } from "../quantity/decimal-text.ts";
import { formatToPlaces, roundToSignificant } from "../quantity/rounding.ts";
import { FLAG_KEYS, type FlagKey } from "../vocabulary/flag.ts";
import { readingPairUncertainty } from "./divisions-needed.ts";
import { type FlagInput, flagsOf, otherFactorHint, spanOf, type UsualSize } from "./flags.ts";
import { measuringPlan, type PlannedTrain } from "./measuring-plan.ts";
import { completeReadings } from "./readings.ts";
import { LEAST_USUAL, type SizeHistory } from "./size-history.ts";
import { divisionsOfReadings, readReadingConditions } from "./typed-reading.ts";
import { isOrdinarySize, type TurretFactor } from "./wrong-objective.ts";

/** A train of the same microscope with its factor in force. */
export interface TrainFactor {
  readonly train: OpticalTrain;
  readonly factor: FactorRecord;
}

/** What stands around one measurement when it is flagged; the same in the window and in the service. */
export interface FlagSurroundings {
  readonly definition: MethodDefinition;
  readonly microscope: Microscope;
  readonly train: OpticalTrain;
  readonly calibration: Pick<CalibrationRecord, "result" | "dueOn" | "personId"> | null;
  readonly certificateDueOn: string | null;
  /** True when something happened to the train and it was not checked since. */
  readonly checkBeforeUse?: boolean;
  readonly personId: string | null;
  /** True when the readings are parts of one length: what counts is what they span together. */
  readonly inParts?: boolean;
  /** Calendar date, ISO 8601. */
  readonly today: string;
  readonly history: SizeHistory | null;
  /** What the other values of this sheet say; left out where nobody looked. */
  readonly sheet?: {
    readonly usual: { readonly median: Decimal; readonly n: number } | null;
    readonly isApart: (size: Decimal) => boolean;
  };
  /** Trains of the microscope that have a factor; asked for only when a flag needs them. */
  readonly trainFactors: () => readonly TrainFactor[];
}

/** A flag with what it says of this measurement, numbers included; empty when the flag's own words say it all. */
export interface FlagFinding {
  readonly flag: FlagKey;
  readonly words: string;
}

function objectiveOf(microscope: Microscope, id: string): Objective {
  const objective = microscope.objectives.find((one) => one.id === id);
  if (!objective) throw new Error(`objective ${id} is not on its microscope`);
  return objective;
}

function objectiveName({ magnification, position }: Objective): string {
  return `${magnification}× at position ${position}`;
}

function optionalNumber(field: string, typed: string): Decimal | null {
  return typed.trim() === "" ? null : readDecimal(field, typed).value;
}

/** The trains a wrong one could be mistaken for: same eyepiece, one step away on turret or changer. */
export function neighbouringTrains(around: Pick<FlagSurroundings, "train" | "microscope" | "trainFactors">): {
  readonly objectives: TurretFactor[];
  readonly changer: TurretFactor[];
} {
  const { train, microscope } = around;
  const others = around
    .trainFactors()
    .filter(
      (one) =>
        one.train.id !== train.id &&
        one.train.eyepieceId === train.eyepieceId &&
        !isEnded(one.train, microscope),
    );
  const factorOf = ({ factor }: TrainFactor): Decimal => decimal(factor.factor);
  return {
    objectives: others
      .filter((one) => one.train.intermediateMagnification === train.intermediateMagnification)
      .map((one) => ({
        name: objectiveName(objectiveOf(microscope, one.train.objectiveId)),
        factor: factorOf(one),
      })),
    changer: others
      .filter((one) => one.train.objectiveId === train.objectiveId)
      .map((one) => ({ name: `changer at ${one.train.intermediateMagnification}×`, factor: factorOf(one) })),
  };
}

function um(value: Decimal): string {
  return `${roundToSignificant(value, 3).toFixed()} µm`;
}

/** The calibrated objectives of this turret behind the same eyepiece and changer, as a plan needs them. */
export function plannedTrains(around: FlagSurroundings): PlannedTrain[] {
  const { train: own, microscope } = around;
  const eyepiece = microscope.eyepieces.find((one) => one.id === own.eyepieceId);
  return around
    .trainFactors()
    .filter(
      (one) =>
        one.train.eyepieceId === own.eyepieceId &&
        one.train.intermediateMagnification === own.intermediateMagnification &&
        !isEnded(one.train, microscope),
    )
    .map(({ train, factor }) => {
      const objective = objectiveOf(microscope, train.objectiveId);
      return {
        id: train.id,
        name: objectiveName(objective),
        factor: decimal(factor.factor),
        relativeUncertainty: decimal(factor.standardUncertainty).div(factor.factor),
        numericalAperture: objective.numericalAperture ? decimal(objective.numericalAperture) : null,
        reticleDivisions: eyepiece?.reticle.divisions ?? 1,
      };
    });
}

/** Which objective would reach the wanted uncertainty. */
function planWords(input: FlagInput, around: FlagSurroundings): string {
  const { size, wanted, expandedUncertainty } = input;
  if (size === null || wanted === null || expandedUncertainty === null) return "";
  const has = roundToSignificant(expandedUncertainty.times(100).div(size), 2).toFixed();
  const begin = `U is ${has} % of the size, ${wanted.percent.toFixed()} % is wanted`;
  const conditions = readReadingConditions(around.definition.reading);
  const best = measuringPlan({
    size,
    wantedPercent: wanted.percent,
    smallestFraction: conditions.smallestFraction,
    repeatability: conditions.repeatability,
    trains: plannedTrains(around),
  }).find((one) => one.fitsScale && one.repeats !== null);
  if (!best) return `${begin}; no calibrated objective reaches it.`;
  const often = best.repeats === 1 ? "one reading" : `the mean of ${best.repeats} readings`;
  return `${begin}; ${best.name} would reach it with ${often}.`;
}

function historyWords({ history, size }: FlagInput): string {
  if (history === null || size === null) return "";
  return `${um(size)}; ${history.n} earlier ones lie from ${um(history.low)} to ${um(history.high)}.`;
}

function hintWords(input: FlagInput, others: readonly TurretFactor[]): string {
  const hint = otherFactorHint(input, others);
  if (hint === null || input.usual === null) return "";
  const { median, where } = input.usual;
  return `${hint.name} would make it ${um(hint.sizeThere)}; usual ${where} is ${um(median)}.`;
}

function wordsOfFlag(flag: FlagKey, input: FlagInput, around: FlagSurroundings): string {
  switch (flag) {
    case "few-divisions":
      return `${formatToPlaces(spanOf(input), 1)} divisions.`;
    case "uncertainty-not-met":
      return planWords(input, around);
    case "outside-history":
      return historyWords(input);
    case "wrong-objective":
      return hintWords(input, input.otherObjectives);
    case "changer-forgotten":
      return hintWords(input, input.otherChangerSettings);
    default:
      return "";
  }
}

/** The usual size of the label: on other sheets, else on this one. */
function usualOf({ history, sheet }: FlagSurroundings): UsualSize | null {
  if (history) return { median: history.median, n: history.n, where: "on other sheets" };
  const here = sheet?.usual;
  return here && here.n >= LEAST_USUAL ? { ...here, where: "on this sheet" } : null;
}

/** What the flags of one dimension depend on, for each of its complete readings. */
export function flagInputs(
  readings: readonly RepeatReading[],
  size: SizeRecord | null,
  around: FlagSurroundings,
): FlagInput[] {
  const { definition, microscope, train, calibration } = around;
  const eyepiece = microscope.eyepieces.find((one) => one.id === train.eyepieceId);
  if (!eyepiece) throw new Error(`a part of train ${train.id} is missing`);
  const objective = objectiveOf(microscope, train.objectiveId);
  const percent = optionalNumber("wantedPercent", definition.wantedPercent);
  const { smallestFraction, repeatability } = readReadingConditions(definition.reading);
  const value = size ? decimal(size.value) : null;
  const usual = usualOf(around);
  const isOdd = value && usual?.median.greaterThan(0) && !isOrdinarySize(value, usual.median);
  const near = isOdd ? neighbouringTrains(around) : { objectives: [], changer: [] };
  const shared = {
    reticleDivisions: eyepiece.reticle.divisions,
    minimumDivisions: optionalNumber("minimumDivisions", definition.minimumDivisions),
    wanted:
      percent === null
        ? null
        : { percent, readingUncertainty: readingPairUncertainty(smallestFraction, repeatability) },
    size: value,
    expandedUncertainty: size ? decimal(size.expandedUncertainty) : null,
    factor: calibration?.result ? decimal(calibration.result.factor) : null,
    otherObjectives: near.objectives,
    otherChangerSettings: near.changer,
    history: around.history,
    usual,
    apart: value !== null && (around.sheet?.isApart(value) ?? false),
    numericalAperture: objective.numericalAperture ? decimal(objective.numericalAperture) : null,
    today: around.today,
    calibrationDueOn: calibration?.dueOn ?? null,
    certificateDueOn: around.certificateDueOn,
    checkBeforeUse: around.checkBeforeUse ?? false,
    headCompensated: microscope.headCompensated,
    personId: around.personId,
    calibratedBy: calibration?.personId ?? null,
  };
  const complete = completeReadings(readings);
  const together = around.inParts ? divisionsOfReadings(complete, { inParts: true }) : null;
  const parts = together && { together, partUnfinished: complete.length < readings.length };
  return complete.map(({ left, right }) => ({ ...shared, left, right, ...parts }));
}

/**
 * The flags of one dimension from all its complete readings, in the order of `FLAG_KEYS`, each with the numbers behind
 * it. Window and service call this same function with the same records.
 */
export function flagMeasurement(
  readings: readonly RepeatReading[],
  size: SizeRecord | null,
  around: FlagSurroundings,
): FlagFinding[] {
  const inputs = flagInputs(readings, size, around);
  const found = new Map<FlagKey, string>();
  for (const input of inputs) {
    for (const flag of flagsOf(input)) {
      if (!found.has(flag)) found.set(flag, wordsOfFlag(flag, input, around));
    }
  }
  return FLAG_KEYS.filter((key) => found.has(key)).map((flag) => ({ flag, words: found.get(flag) ?? "" }));
}
