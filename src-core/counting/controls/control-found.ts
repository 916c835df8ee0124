import type { ControlSample, RecoverySample } from "../../contract/records/control-sample.ts";
import type { CountCategory, CountMethodDefinition } from "../../contract/records/count-method.ts";
import type { CountResults, DensityRecord } from "../../contract/records/count-results.ts";
import { type Decimal, decimal, rootSumOfSquares, ZERO } from "../../quantity/decimal.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError, requireNotNegative, requirePositive } from "../../quantity/input-error.ts";
import { type Found, objectsFound, type Recovery, recoveryOf } from "./recovery.ts";

const HUNDRED = decimal(100);

function optional(field: string, typed: string): Decimal | null {
  return typed.trim() === "" ? null : requireNotNegative(field, readDecimal(field, typed).value);
}

interface Stated {
  readonly value: Decimal;
  readonly standardUncertainty: Decimal;
  readonly portion: Decimal;
  readonly background: Decimal | null;
}

/** What is stated of a control sample, as numbers. @throws InputError at the field */
function statedOf({ against, stated, expanded, portion, background }: RecoverySample): Stated {
  const part = optional("portion", portion) ?? HUNDRED;
  if (part.isZero() || part.greaterThan(HUNDRED)) {
    throw new InputError("portion", "must be greater than 0 and at most 100 %");
  }
  const before = optional("background", background);
  if (against === "density" && (portion.trim() !== "" || before !== null)) {
    throw new InputError(
      before === null ? "portion" : "background",
      "goes with a stated number of objects: a density holds it already",
    );
  }
  return {
    value: requirePositive("stated", readDecimal("stated", stated).value),
    standardUncertainty: (optional("expanded", expanded) ?? ZERO).div(2),
    portion: part,
    background: before,
  };
}

/** Checks what is said of a control sample against its count. @throws InputError at the field */
export function requireControlSample(
  control: ControlSample,
  { density }: CountMethodDefinition,
  categories: readonly CountCategory[],
): void {
  if (control.kind !== "recovery") return;
  if (control.of !== "total" && !categories.some(({ key }) => key === control.of)) {
    throw new InputError("of", "is neither the total nor a category of this count");
  }
  if (control.against === "density" && density.kind === "none") {
    throw new InputError("against", "must be a number of objects: this method gives no density");
  }
  statedOf(control);
}

/** The last density given of the total or a category: fibres/cc, not fibres/mm². */
export function lastDensity({ densities }: CountResults, of: string): DensityRecord | null {
  return densities.findLast((one) => one.of === of) ?? null;
}

/** Relative doubt of a density beside its count. */
function restOf({ components }: DensityRecord): Decimal {
  return rootSumOfSquares(
    components.filter(({ key }) => key !== "count").map(({ relative }) => decimal(relative)),
  );
}

function foundObjects(results: CountResults, of: string): Decimal {
  if (of === "total") return decimal(results.total);
  const found = results.categories.find(({ category }) => category === of);
  return decimal(found?.count ?? 0);
}

/** What was found and what is stated, and their ratio. */
export interface FoundRecovery extends Recovery {
  readonly unit: string;
  readonly found: Decimal;
  readonly background: Decimal;
  readonly stated: Decimal;
  /** Per cent. */
  readonly portion: Decimal;
}

/** The recovery of a closed count; null where it has no such density. */
export function recoveryOfCount(control: RecoverySample, results: CountResults): FoundRecovery | null {
  const stated = statedOf(control);
  const density = control.against === "density" ? lastDensity(results, control.of) : null;
  if (control.against === "density" && density === null) return null;
  const objects = foundObjects(results, control.of);
  const found: Found = density
    ? {
        value: decimal(density.value),
        lower: decimal(density.lower),
        upper: decimal(density.upper),
        relative: restOf(density),
      }
    : objectsFound(objects, stated.background);
  return {
    ...recoveryOf(found, { ...stated, portion: stated.portion.div(HUNDRED) }),
    unit: density?.unit ?? "objects",
    found: density ? decimal(density.value) : objects,
    background: stated.background ?? ZERO,
    stated: stated.value,
    portion: stated.portion,
  };
}
