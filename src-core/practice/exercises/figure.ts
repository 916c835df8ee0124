import type { PracticeFigure } from "../../contract/records/practice.ts";
import type { Decimal } from "../../quantity/decimal.ts";
import { textOfDecimal } from "../../quantity/decimal-text.ts";
import type { Interval } from "../../statistics/interval.ts";

/** A figure of a result as it is stored. */
export function figure(
  name: PracticeFigure["name"],
  value: Decimal,
  interval: Interval | null = null,
  limit: Decimal | null = null,
  exceeded: boolean | null = null,
): PracticeFigure {
  return {
    name,
    value: textOfDecimal(value),
    lower: interval && textOfDecimal(interval.lower),
    upper: interval && textOfDecimal(interval.upper),
    limit: limit && textOfDecimal(limit),
    exceeded,
  };
}
