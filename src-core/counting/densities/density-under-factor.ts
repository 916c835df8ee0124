import type { DensityRecord } from "../../contract/records/count-results.ts";
import { type Decimal, decimal, ONE, rootSumOfSquares, ZERO } from "../../quantity/decimal.ts";
import { textOfDecimal } from "../../quantity/decimal-text.ts";
import { requireNotNegative, requirePositive } from "../../quantity/input-error.ts";
import type { AreaFactor } from "../areas/counting-area.ts";
import { coverageOf } from "./density.ts";
import { valueWords } from "./reported-density.ts";

/**
 * A frozen density as it would stand under another factor: value, limits, what one object stands for and the limit of
 * detection are multiplied by (new/old)^power, −2 through an area; the factor's own doubt becomes |power|·u(f)/f of the
 * new one and U follows. The count and every other input stay. Null where no factor enters.
 * @throws InputError when the new factor is not greater than zero
 */
export function densityUnderFactor(density: DensityRecord, to: AreaFactor): DensityRecord | null {
  if (!density.factor) return null;
  requirePositive("factor", to.factor);
  requireNotNegative("factor.standardUncertainty", to.standardUncertainty);
  const { power } = density.factor;
  const ratio = to.factor.div(decimal(density.factor.factor)).pow(power);
  const scaled = (text: string) => textOfDecimal(decimal(text).times(ratio));
  const relatives = density.components.map((one) =>
    one.key === "factor" ? to.standardUncertainty.div(to.factor).times(power) : decimal(one.relative),
  );
  const known = density.relative !== null;
  const relative = known ? rootSumOfSquares(relatives) : null;
  const value = decimal(density.value).times(ratio);
  const k = coverageUnder(density, relatives);
  const expanded = relative ? relative.times(value).times(k) : null;
  const total = relative?.pow(2) ?? ONE;
  return {
    ...density,
    value: textOfDecimal(value),
    perObject: scaled(density.perObject),
    lower: scaled(density.lower),
    upper: scaled(density.upper),
    relative: relative ? textOfDecimal(relative) : null,
    expanded: expanded ? textOfDecimal(expanded) : null,
    coverageFactor: textOfDecimal(k),
    components: density.components.map((one, i) => {
      const now = relatives[i] ?? ZERO;
      return {
        ...one,
        relative: textOfDecimal(now),
        share: textOfDecimal(total.isZero() ? ZERO : now.pow(2).div(total)),
      };
    }),
    factor: {
      factor: textOfDecimal(to.factor),
      standardUncertainty: textOfDecimal(to.standardUncertainty),
      power,
    },
    lessThan: density.lessThan === null ? null : scaled(density.lessThan),
    shown: shownUnder(density, { value, expanded, ratio, k }),
    // The class belongs to the frozen value; under another factor it is for a person to look at again.
    class: null,
  };
}

/** k of a density with a finite ν follows its shares; every other keeps the k it was frozen with. */
function coverageUnder(density: DensityRecord, relatives: readonly Decimal[]): Decimal {
  if (density.degreesOfFreedom === undefined) return decimal(density.coverageFactor);
  const components = density.components.map(({ key, name }, i) => ({
    key,
    name,
    relative: relatives[i] ?? ZERO,
  }));
  return coverageOf(components, density.degreesOfFreedom, "t95");
}

interface Under {
  readonly value: Decimal;
  readonly expanded: Decimal | null;
  readonly ratio: Decimal;
  readonly k: Decimal;
}

function shownUnder(density: DensityRecord, { value, expanded, ratio, k }: Under): string {
  if (density.lessThan !== null || expanded === null) {
    const limit = decimal(density.lessThan ?? density.upper).times(ratio);
    return `< ${limit.toSignificantDigits(2, 0).toFixed()} ${density.unit}`;
  }
  const limits = { lower: decimal(density.lower).times(ratio), upper: decimal(density.upper).times(ratio) };
  const reported = { value, expanded, coverageFactor: k, unit: density.unit, ...limits };
  return valueWords(reported, "half-even", density.basis === "between-fields").text;
}
