import type { Count } from "../../contract/records/count.ts";
import { equalsProbability } from "../../quantity/probability-words.ts";
import { morisitaIndex, type NegativeBinomialK, negativeBinomialK } from "../densities/aggregation.ts";
import { type FieldCounts, keysOfKind, objectsIn } from "../inputs/field-counts.ts";
import { type PoissonFit, poissonFit } from "../intervals/poisson-fit.ts";

/**
 * Below this the numbers of fields with 0, 1, 2 … objects are said to be unlike Poisson's: so it is in at most 12 of
 * 1000 counts with nothing wrong (simulated, 2000 counts each of 20, 50 and 200 fields, 0.5 to 20 objects per field).
 */
export const UNLIKE_POISSON = 0.01;

/** What is told of the scatter of the fields beside the dispersion test. */
export interface ScatterOfFields {
  /** Null where fewer than two objects, or parts of objects, were counted. */
  readonly morisita: number | null;
  /** Null where the fields differ no more than Poisson's law lets them. */
  readonly negativeBinomial: NegativeBinomialK | null;
  /** Null where too few fields or objects, or parts of objects, were counted. */
  readonly fit: PoissonFit | null;
}

/** Objects of the total in every field counted to its end. */
export function objectsPerField(
  { categories, lastFieldCounted }: Pick<Count, "categories" | "lastFieldCounted">,
  fields: readonly FieldCounts[],
): readonly number[] {
  const keys = keysOfKind(categories, "object");
  return (lastFieldCounted ? fields : fields.slice(0, -1)).map((field) => objectsIn(field, keys));
}

function frequenciesOf(counts: readonly number[]): number[] {
  const frequencies = Array<number>(Math.max(...counts) + 1).fill(0);
  for (const count of counts) frequencies[count] = (frequencies[count] ?? 0) + 1;
  return frequencies;
}

/** Morisita's index, the exponent k and the fit to Poisson's law of the fields of a count; null below two fields. */
export function scatterOfFields(counts: readonly number[]): ScatterOfFields | null {
  if (counts.length < 2) return null;
  const isWhole = counts.every(Number.isInteger);
  const isEmpty = counts.every((count) => count === 0);
  // A colony of a million in one field would make as many classes.
  const isListed = Math.max(...counts) <= 100_000;
  return {
    morisita: isWhole ? morisitaIndex(counts) : null,
    negativeBinomial: isEmpty ? null : negativeBinomialK(counts),
    fit: isWhole && !isEmpty && isListed ? poissonFit(frequenciesOf(counts)) : null,
  };
}

/** The fit in words. */
export function fitWords({ statistic, degreesOfFreedom, p, classes }: PoissonFit): string {
  const found = `χ² = ${statistic.toPrecision(3)} of ${classes} classes, ν = ${degreesOfFreedom}, p ${equalsProbability(p)}`;
  return p < UNLIKE_POISSON ? `${found}: unlike Poisson's law` : `${found}: no sign against Poisson's law`;
}
