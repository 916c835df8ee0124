import type { MethodDimension } from "../contract/records/method.ts";
import type { AgreementReport, DimensionAgreement } from "../contract/records/second-reading.ts";
import type { Measurement } from "../contract/records/sheet.ts";
import { decimal } from "../quantity/decimal.ts";
import { textOfDecimal } from "../quantity/decimal-text.ts";
import { readerAgreement } from "../statistics/reader-agreement.ts";

/** The two readings of one dimension of one row; null where there is none. */
export interface SecondReadingPair {
  readonly rowId: string;
  readonly ordinal: number;
  readonly dimension: string;
  readonly first: Pick<Measurement, "size"> | null;
  readonly second: Pick<Measurement, "size"> | null;
}

type Pair = AgreementReport["pairs"][number];

function pairOf({ first, second, ...at }: SecondReadingPair): Pair | null {
  if (!first?.size || !second?.size) return null;
  const difference = textOfDecimal(decimal(second.size.value).minus(first.size.value));
  return { ...at, first: first.size.value, second: second.size.value, difference };
}

function whyLeftOut({ ordinal, dimension, first, second }: SecondReadingPair): string {
  const where = `row ${ordinal}, ${dimension}`;
  if (!second) return `${where}: not read a second time`;
  if (!first) return `${where}: its first reading is no longer there`;
  return `${where}: ${second.size ? "the first" : "the second"} reading has no size`;
}

/** Fewer pairs have no spread to speak of. */
const LEAST_PAIRS = 2;

function agreementOf(dimension: string, pairs: readonly Pair[]): DimensionAgreement {
  const report = readerAgreement(
    pairs.map((pair) => decimal(pair.first)),
    pairs.map((pair) => decimal(pair.second)),
  );
  const { n, bias, biasInterval, deviation, limits, technicalError, relativeTechnicalError, p } = report;
  const text = textOfDecimal;
  return {
    dimension,
    n,
    bias: text(bias),
    biasInterval: { lower: text(biasInterval.lower), upper: text(biasInterval.upper) },
    deviation: text(deviation),
    limits: { lower: text(limits.lower), upper: text(limits.upper) },
    technicalError: text(technicalError),
    relativeTechnicalError: relativeTechnicalError && text(relativeTechnicalError),
    p,
  };
}

/**
 * How a second reader agrees with the first, per dimension of the method, from the pairs that have two sizes. Both were
 * converted with the same calibration, so the difference is one of reading alone.
 */
export function agreementReport(
  readings: readonly SecondReadingPair[],
  dimensions: readonly MethodDimension[],
): AgreementReport {
  const pairs = readings.map(pairOf).filter((pair) => pair !== null);
  const lone = dimensions
    .filter(({ key }) => pairs.filter((pair) => pair.dimension === key).length === 1)
    .map(({ name }) => `${name}: one pair alone says nothing about agreement`);
  return {
    dimensions: dimensions.flatMap(({ key }) => {
      const own = pairs.filter((pair) => pair.dimension === key);
      return own.length < LEAST_PAIRS ? [] : [agreementOf(key, own)];
    }),
    pairs,
    leftOut: [...readings.filter((one) => pairOf(one) === null).map(whyLeftOut), ...lone],
  };
}
