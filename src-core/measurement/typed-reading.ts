import type { FactorRecord } from "../contract/records/calibration.ts";
import type { MethodDefinition, TypedReadingConditions } from "../contract/records/method.ts";
import type { RepeatReading, SizeRecord } from "../contract/records/sheet.ts";
import { type Decimal, sumOf } from "../quantity/decimal.ts";
import { decimalOfText, readDecimal, textOfDecimal } from "../quantity/decimal-text.ts";
import { type RoundingRule, reportWithUncertainty } from "../quantity/rounding.ts";
import { type CompleteReading, completeReadings, isInParts } from "./readings.ts";
import type { FactorInForce, ReadingConditions, SizeResult } from "./size.ts";
import { requireReadingConditions, sizeOfDivisions } from "./size-of-divisions.ts";
import { sizeOfSegments } from "./size-of-segments.ts";

/**
 * right − left of two readings as typed, div; negative when the edges were read the wrong way round.
 * @throws InputError `left` or `right` for a reading that cannot be read
 */
export function divisionsOfEdges(left: string, right: string): Decimal {
  const from = readDecimal("left", left).value;
  return readDecimal("right", right).value.minus(from);
}

/**
 * A method's reading conditions as typed. Empty degrees of freedom mean: taken as known.
 * @throws InputError `reading.<key>`
 */
export function readReadingConditions(typed: TypedReadingConditions): ReadingConditions {
  const read = (
    key: "smallestFraction" | "repeatability" | "alignmentHalfAngle" | "edgeHalfWidth",
  ): Decimal => readDecimal(`reading.${key}`, typed[key]).value;
  const optional = (key: "repeatabilityDegreesOfFreedom" | "edgeDegreesOfFreedom"): Decimal | null =>
    typed[key].trim() === "" ? null : readDecimal(`reading.${key}`, typed[key]).value;
  const conditions: ReadingConditions = {
    smallestFraction: read("smallestFraction"),
    repeatability: read("repeatability"),
    repeatabilityDegreesOfFreedom: optional("repeatabilityDegreesOfFreedom"),
    alignmentHalfAngle: read("alignmentHalfAngle"),
    ends: typed.ends,
    edgeHalfWidth: read("edgeHalfWidth"),
    edgeDegreesOfFreedom: optional("edgeDegreesOfFreedom"),
    edgeKind: typed.edgeKind,
    ...(typed.repeatabilitySource && { repeatabilitySource: typed.repeatabilitySource }),
  };
  requireReadingConditions(conditions);
  return conditions;
}

/** The frozen factor of a calibration as the input of a size. */
export function factorInForceOf(record: FactorRecord): FactorInForce {
  return {
    factor: decimalOfText("factor.factor", record.factor),
    standardUncertainty: decimalOfText("factor.standardUncertainty", record.standardUncertainty),
    degreesOfFreedom:
      record.degreesOfFreedom === null
        ? null
        : decimalOfText("factor.degreesOfFreedom", record.degreesOfFreedom),
  };
}

/**
 * A size as the text record that is frozen with its row. All digits are kept; only `shownValue` and
 * `shownUncertainty` are rounded (U to two significant digits, JCGM 100:2008 7.2.6).
 */
export function sizeRecordOf(result: SizeResult, rounding: RoundingRule): SizeRecord {
  const { uncertainty } = result;
  const shown = reportWithUncertainty(result.size, uncertainty.expanded, rounding);
  return {
    value: textOfDecimal(result.size),
    standardUncertainty: textOfDecimal(uncertainty.standard),
    degreesOfFreedom: uncertainty.degreesOfFreedom && textOfDecimal(uncertainty.degreesOfFreedom),
    coverageFactor: textOfDecimal(uncertainty.coverageFactor),
    expandedUncertainty: textOfDecimal(uncertainty.expanded),
    shownValue: shown.value,
    shownUncertainty: shown.uncertainty,
  };
}

/** A dimension of one row, as typed, with the factor and method it is converted by. */
export interface TypedReading {
  readonly left: string;
  readonly right: string;
  readonly factor: FactorRecord;
  readonly definition: Pick<MethodDefinition, "reading" | "coverage" | "rounding">;
}

/**
 * Divisions of a dimension: right − left of a single reading, with its sign; of several the mean of their lengths, so
 * that one read the wrong way round does not cancel another; of parts the sum of their lengths. Null without a complete
 * reading.
 */
export function divisionsOfReadings(
  readings: readonly CompleteReading[],
  { inParts }: { readonly inParts: boolean },
): Decimal | null {
  const [first, ...more] = readings;
  if (!first) return null;
  if (inParts) return sumOf(readings.map(({ left, right }) => right.minus(left).abs()));
  if (more.length === 0) return first.right.minus(first.left);
  return sumOf(readings.map(({ left, right }) => right.minus(left).abs())).div(readings.length);
}

/** What readings of one dimension are converted by: its method, and the factor once there is one. */
export interface ConversionBy {
  readonly dimension: string;
  readonly factor: FactorRecord | null;
  readonly definition: Pick<MethodDefinition, "dimensions" | "reading" | "coverage" | "rounding">;
}

/**
 * The size of one dimension from its complete readings, with the budget: what derived quantities start from.
 * @throws InputError `divisions`, `reading.<key>` or `factor.<key>`
 */
export function sizeOfReadings(
  readings: readonly CompleteReading[],
  factor: FactorRecord,
  { dimension, definition }: Pick<ConversionBy, "dimension" | "definition">,
): SizeResult {
  const sizeOf = isInParts(definition, dimension) ? sizeOfSegments : sizeOfDivisions;
  return sizeOf({
    divisions: readings.map(({ left, right }) => right.minus(left).abs()),
    factor: factorInForceOf(factor),
    conditions: readReadingConditions(definition.reading),
    coverage: definition.coverage,
  });
}

/**
 * Divisions and size of one dimension from all its readings as typed; both null without a complete one.
 * @throws InputError `left`, `right`, `direct`, `repeats.N.left` …, `reading.<key>` or `factor.<key>`
 */
export function previewReadings(
  readings: readonly RepeatReading[],
  by: ConversionBy,
): { divisions: Decimal | null; size: SizeRecord | null } {
  const complete = completeReadings(readings);
  const divisions = divisionsOfReadings(complete, { inParts: isInParts(by.definition, by.dimension) });
  if (divisions === null || by.factor === null) return { divisions, size: null };
  const size = sizeOfReadings(complete, by.factor, by);
  return { divisions, size: sizeRecordOf(size, by.definition.rounding) };
}

/**
 * One dimension of one row from its two readings. `divisions` keeps its sign, right − left; the size is taken from its
 * absolute value, and `flagsOf` marks edges read the wrong way round.
 * @throws InputError `left`, `right`, `reading.<key>` or `factor.<key>`
 */
export function previewSize({ left, right, factor, definition }: TypedReading): {
  divisions: Decimal;
  size: SizeRecord;
} {
  const complete = completeReadings([{ number: 1, left, right, direct: null }]);
  const whole = { dimension: "", definition: { ...definition, dimensions: [] } };
  return {
    divisions: divisionsOfEdges(left, right),
    size: sizeRecordOf(sizeOfReadings(complete, factor, whole), definition.rounding),
  };
}
