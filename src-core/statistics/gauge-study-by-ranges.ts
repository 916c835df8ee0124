import { Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";
import { type CrossedStudy, requireCrossed, type StudyComponents, studyComponents } from "./gauge-study.ts";
import { mean, memberAt } from "./sample.ts";

/** Factors 1/d2* for ranges of 2 … values, by number of repeats, readers and specimens (AIAG MSA, 4th ed. 2010). */
const BY_REPEATS: readonly string[] = ["0.8862", "0.5908"];
const BY_READERS: readonly string[] = ["0.7071", "0.5231"];
const BY_SPECIMENS: readonly string[] = [
  ...["0.7071", "0.5231", "0.4467", "0.4030", "0.3742"],
  ...["0.3534", "0.3375", "0.3249", "0.3146"],
];

function factorFor(field: string, table: readonly string[], n: number): Decimal {
  const text = table[n - 2];
  if (text === undefined)
    throw new InputError(field, `must be 2 to ${table.length + 1} for this method, got ${n}`);
  return decimal(text);
}

function rangeOf(values: readonly Decimal[]): Decimal {
  return Decimal.max(...values).minus(Decimal.min(...values));
}

export interface RangeStudy {
  /** Mean range of each reader's repeats. */
  readonly readerRanges: readonly Decimal[];
  readonly meanRange: Decimal;
  /** Range of the readers' means. */
  readonly readerDifference: Decimal;
  /** Range of the specimens' means. */
  readonly specimenRange: Decimal;
  readonly components: StudyComponents;
}

/**
 * Crossed study by averages and ranges (AIAG, Measurement Systems Analysis, 4th ed. 2010, chapter III): what can be
 * worked out by hand; `gaugeStudy` sees the interaction too. 2–3 repeats, 2–3 readers, 2–10 specimens.
 * @throws InputError when the study is not crossed or lies outside those numbers
 */
export function gaugeStudyByRanges(study: CrossedStudy): RangeStudy {
  const { readers, specimens, repeats } = requireCrossed(study);
  const byRepeats = factorFor("repeats", BY_REPEATS, repeats);
  const byReaders = factorFor("readers", BY_READERS, readers);
  const bySpecimens = factorFor("specimens", BY_SPECIMENS, specimens);
  const readerRanges = study.map((cells) => mean(cells.map(rangeOf)));
  const meanRange = mean(readerRanges);
  const readerDifference = rangeOf(study.map((cells) => mean(cells.flat())));
  const specimenRange = rangeOf(
    Array.from({ length: specimens }, (_, at) => mean(study.flatMap((cells) => memberAt(cells, at)))),
  );
  const repeatability = meanRange.times(byRepeats);
  const readerSquared = readerDifference
    .times(byReaders)
    .pow(2)
    .minus(repeatability.pow(2).div(specimens * repeats));
  return {
    readerRanges,
    meanRange,
    readerDifference,
    specimenRange,
    components: studyComponents({
      repeatability,
      readers: readerSquared.greaterThan(0) ? readerSquared.sqrt() : ZERO,
      interaction: ZERO,
      specimens: specimenRange.times(bySpecimens),
    }),
  };
}
