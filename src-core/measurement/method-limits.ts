import type { FactorRecord } from "../contract/records/calibration.ts";
import type { LimitDefinition, MethodDefinition } from "../contract/records/method.ts";
import type { Measurement } from "../contract/records/sheet.ts";
import { type Decimal, decimal } from "../quantity/decimal.ts";
import { readDecimal } from "../quantity/decimal-text.ts";
import { InputError } from "../quantity/input-error.ts";
import {
  type ConformityDecision,
  conformityDecision,
  DECISION_WORDS,
  requireLimits,
  type ToleranceLimits,
} from "../uncertainty/conformity.ts";
import { unitOfDerived } from "./derived-kind.ts";
import { type RowQuantity, rowQuantities } from "./row-quantities.ts";

/** The limits as numbers. @throws InputError `<field>.lower` or `.upper` */
export function readLimits(limit: LimitDefinition, field = "limits"): ToleranceLimits {
  const read = (side: "lower" | "upper"): Decimal | null =>
    limit[side].trim() === "" ? null : readDecimal(`${field}.${side}`, limit[side]).value;
  const limits = { lower: read("lower"), upper: read("upper") };
  try {
    requireLimits(limits);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const side = error.field.endsWith("upper") ? "upper" : "lower";
    throw new InputError(`${field}.${side}`, error.reason);
  }
  return limits;
}

/** A measured or derived value with its uncertainty, as stored. */
interface StoredValue {
  readonly value: string;
  readonly standardUncertainty: string;
  readonly expandedUncertainty: string;
}

/** The decision on one value by a limit of its method. */
export function decisionOf(limit: LimitDefinition, found: StoredValue): ConformityDecision {
  return conformityDecision(
    {
      value: decimal(found.value),
      standardUncertainty: decimal(found.standardUncertainty),
      expanded: decimal(found.expandedUncertainty),
    },
    readLimits(limit),
    limit.rule,
  );
}

export const CONFORMS = "conforms";
export const DOES_NOT_CONFORM = "does not conform";
export const wordsOfDecision = ({ conforms }: Pick<ConformityDecision, "conforms">): string =>
  conforms ? CONFORMS : DOES_NOT_CONFORM;

/** Whether a size keeps the limits of its dimension; null where the method sets none. */
export function sizeDecision(
  { limits }: Pick<MethodDefinition, "limits">,
  dimension: string,
  size: StoredValue | null,
): ConformityDecision | null {
  const limit = limits?.find(({ of }) => of === dimension);
  return limit && size && decimal(size.standardUncertainty).greaterThan(0) ? decisionOf(limit, size) : null;
}

/** A derived quantity of a row with its limit's decision. */
export interface QuantityDecision {
  readonly quantity: RowQuantity;
  readonly decision: ConformityDecision;
}

/** Whether the derived quantities of a row keep their limits; those that cannot be computed yet are left out. */
export function quantityDecisions(
  row: { readonly measurements: readonly Measurement[] },
  definition: MethodDefinition,
  factorOf: (calibrationId: string) => FactorRecord | null,
): readonly QuantityDecision[] {
  const { limits = [], derived } = definition;
  const limited = derived.filter(({ key }) => limits.some(({ of }) => of === key));
  if (limited.length === 0) return [];
  const found = rowQuantities(row, { ...definition, derived: limited, classes: [] }, factorOf).derived;
  return limits.flatMap((limit) => {
    const quantity = found.find(({ key }) => key === limit.of);
    if (!quantity || !("value" in quantity) || !decimal(quantity.standardUncertainty).greaterThan(0))
      return [];
    return [{ quantity, decision: decisionOf(limit, quantity) }];
  });
}

/** `Length, from 10 to 25 µm, guarded acceptance …`. */
export function limitWords(
  { of, lower, upper, rule }: LimitDefinition,
  { dimensions, derived }: Pick<MethodDefinition, "dimensions" | "derived">,
): string {
  const quantity = derived.find(({ key }) => key === of);
  const name = quantity?.name ?? dimensions.find(({ key }) => key === of)?.name ?? of;
  const unit = quantity ? unitOfDerived(quantity) : "µm";
  const shownUnit = unit === "1" ? "" : ` ${unit}`;
  const range =
    lower === "" ? `at most ${upper}` : upper === "" ? `at least ${lower}` : `from ${lower} to ${upper}`;
  return `${name}, ${range}${shownUnit}, by ${DECISION_WORDS[rule]}`;
}
