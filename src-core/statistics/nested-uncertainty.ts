import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";
import { fQuantile } from "./distributions.ts";
import { anovaOfGroups, type GroupSummary, type OneWayAnova } from "./one-way-anova.ts";
import { memberAt, requireLevel } from "./sample.ts";

export interface NestedUncertainty {
  readonly anova: OneWayAnova;
  /** s of the group means. */
  readonly deviationOfMeans: Decimal;
  /** s_a = √K·s(means): estimate of σ from the means. */
  readonly fromMeans: Decimal;
  /** F at the level of confidence; a larger F shows that days (groups) differ. */
  readonly criticalF: Decimal;
  readonly groupsDiffer: boolean;
  /** s(means)/√J with ν = J − 1: uncertainty of the grand mean when groups differ. */
  readonly standardUncertainty: Decimal;
  readonly degrees: number;
  /** From all JK readings as one sample, ν = JK − 1: only when groups do not differ. */
  readonly pooledUncertainty: Decimal;
  readonly pooledDegrees: number;
}

/**
 * Uncertainty of a grand mean over J days (groups) of K readings each (JCGM 100:2008 H.5.2). When the days differ, the
 * readings within a day are not independent and the scatter of the day means decides.
 * @throws InputError when the groups differ in size, or there are fewer than two
 */
export function nestedUncertainty(groups: readonly GroupSummary[], level = 0.95): NestedUncertainty {
  requireLevel(level);
  const anova = anovaOfGroups(groups);
  const size = memberAt(groups, 0).n;
  groups.forEach((group, index) => {
    if (group.n !== size)
      throw new InputError(`groups.${index}`, `must hold ${size} readings like the first`);
  });
  const count = groups.length;
  const varianceOfMeans = anova.between.meanSquare.div(size);
  const critical = decimal(fQuantile(level, anova.between.degrees, anova.within.degrees));
  const pooledDegrees = count * size - 1;
  return {
    anova,
    deviationOfMeans: varianceOfMeans.sqrt(),
    fromMeans: anova.between.meanSquare.sqrt(),
    criticalF: critical,
    groupsDiffer: anova.f === null ? !anova.between.squares.isZero() : anova.f.greaterThan(critical),
    standardUncertainty: varianceOfMeans.div(count).sqrt(),
    degrees: count - 1,
    pooledUncertainty: anova.between.squares
      .plus(anova.within.squares)
      .div(pooledDegrees)
      .div(count * size)
      .sqrt(),
    pooledDegrees,
  };
}
