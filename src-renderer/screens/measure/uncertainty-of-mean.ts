import type { MethodDefinition } from "#core/contract/records/method.ts";
import { meanLengthUncertainty, sharedEdges } from "#core/measurement/mean-length.ts";
import { readReadingConditions } from "#core/measurement/typed-reading.ts";
import type { Decimal } from "#core/quantity/decimal.ts";
import type { SheetSummary } from "./sheet-summary.ts";

/**
 * U of the mean of a sample as a length, µm, as report and workbook have it: scatter, factor and shared edges. Null for
 * fewer than two sizes, or while a factor is not known yet.
 */
export function uncertaintyOfMean(
  summary: SheetSummary,
  { dimension, label }: { readonly dimension: string; readonly label: string | null },
  { reading, coverage }: Pick<MethodDefinition, "reading" | "coverage">,
): Decimal | null {
  const sample = summary.sample(dimension, label)?.summary();
  const shared = summary.sharedPart(dimension, label);
  if (!sample?.deviation || !shared) return null;
  return meanLengthUncertainty({
    deviation: sample.deviation,
    count: sample.n,
    factorUncertainty: shared.mean.abs(),
    factorDegreesOfFreedom: shared.degreesOfFreedom,
    ...sharedEdges(readReadingConditions(reading)),
    coverage,
  }).expanded;
}
