import type { DensityRecord } from "../../contract/records/tally-results.ts";
import { decimal, ONE, rootSumOfSquares, ZERO } from "../../quantity/decimal.ts";
import { textOfDecimal } from "../../quantity/decimal-text.ts";
import { requireNotNegative, requirePositive } from "../../quantity/input-error.ts";
import { reportWithUncertainty } from "../../quantity/rounding.ts";
import type { AreaFactor } from "../areas/counting-area.ts";

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
  const expanded = relative ? relative.times(value).times(decimal(density.coverageFactor)) : null;
  const total = relative?.pow(2) ?? ONE;
  return {
    ...density,
    value: textOfDecimal(value),
    perObject: scaled(density.perObject),
    lower: scaled(density.lower),
    upper: scaled(density.upper),
    relative: relative ? textOfDecimal(relative) : null,
    expanded: expanded ? textOfDecimal(expanded) : null,
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
    shown: shownUnder(density, decimal(density.value).times(ratio), expanded, ratio),
    // The class belongs to the frozen value; under another factor it is for a person to look at again.
    class: null,
  };
}

function shownUnder(
  density: DensityRecord,
  value: ReturnType<typeof decimal>,
  expanded: ReturnType<typeof decimal> | null,
  ratio: ReturnType<typeof decimal>,
): string {
  if (density.lessThan !== null || expanded === null) {
    const limit = decimal(density.lessThan ?? density.upper).times(ratio);
    return `< ${limit.toSignificantDigits(2, 0).toFixed()} ${density.unit}`;
  }
  const report = reportWithUncertainty(value, expanded, "half-even");
  return `${report.value} ± ${report.uncertainty} ${density.unit} (k = ${decimal(density.coverageFactor).toFixed()})`;
}
