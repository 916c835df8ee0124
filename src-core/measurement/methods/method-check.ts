import type { DerivedDefinition, MethodDefinition } from "../../contract/records/method.ts";
import { objectClassTable } from "../../methods/class-tables.ts";
import type { Decimal } from "../../quantity/decimal.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError, requireNotNegative, requirePositive } from "../../quantity/input-error.ts";
import { OWN_FORMULA } from "../../vocabulary/derived-kinds.ts";
import { derivedInputs, shapeOfKind } from "../derived-kind.ts";
import { readFormula } from "../formulas/formula.ts";
import { readLimits } from "../method-limits.ts";
import { countedQuantity, readSizeClasses } from "../size-classes.ts";
import { readReadingConditions } from "../typed-reading.ts";

function requireOwnKeys({ dimensions, derived }: MethodDefinition): void {
  const keys: string[] = [];
  const claim = (field: string, key: string): void => {
    if (keys.includes(key)) throw new InputError(field, "is the key of another dimension or quantity");
    keys.push(key);
  };
  dimensions.forEach((one, i) => {
    claim(`dimensions.${i}.key`, one.key);
  });
  derived.forEach((one, i) => {
    claim(`derived.${i}.key`, one.key);
  });
}

/** A formula that can be read, over the dimensions it is stored with. */
function requireFormula(
  { formula, of }: DerivedDefinition,
  { dimensions }: MethodDefinition,
  field: string,
): void {
  const keys = dimensions.map(({ key }) => key);
  const { sizes } = readFormula(formula ?? "", keys, `${field}.formula`);
  if (sizes.length !== of.length || sizes.some((key, at) => of[at] !== key)) {
    throw new InputError(`${field}.of`, `must be what the formula names: ${sizes.join(", ")}`);
  }
}

function requireDerived(definition: MethodDefinition): void {
  const { dimensions, derived } = definition;
  derived.forEach((one, i) => {
    const { kind, of, formula } = one;
    if (kind === OWN_FORMULA) {
      requireFormula(one, definition, `derived.${i}`);
      return;
    }
    if (formula !== undefined) {
      throw new InputError(`derived.${i}.formula`, "belongs to a formula of its own: choose that kind");
    }
    of.forEach((key, j) => {
      if (!dimensions.some((one) => one.key === key)) {
        throw new InputError(`derived.${i}.of.${j}`, "is not a dimension of this method");
      }
    });
    const inputs = derivedInputs(kind);
    if (inputs && inputs.length !== of.length) {
      throw new InputError(`derived.${i}.of`, `needs ${inputs.length}: ${inputs.join(", ")}`);
    }
    if (shapeOfKind(kind) === null && new Set(of).size < of.length) {
      throw new InputError(`derived.${i}.of`, "names a dimension twice");
    }
    if (!inputs && of.length < 2) throw new InputError(`derived.${i}.of`, "needs at least two dimensions");
  });
}

function requireClasses({ dimensions, derived, classes }: MethodDefinition): void {
  classes.forEach(({ of, tableId }, i) => {
    if (![...dimensions, ...derived].some((one) => one.key === of)) {
      throw new InputError(`classes.${i}.of`, "is not a dimension or quantity of this method");
    }
    if (!objectClassTable(tableId)) {
      throw new InputError(`classes.${i}.tableId`, "is not a table of classes this program has");
    }
  });
}

function requireMethodLimits({ dimensions, derived, limits = [] }: MethodDefinition): void {
  limits.forEach((limit, i) => {
    if (![...dimensions, ...derived].some((one) => one.key === limit.of)) {
      throw new InputError(`limits.${i}.of`, "is not a dimension or quantity of this method");
    }
    if (limits.findIndex(({ of }) => of === limit.of) < i) {
      throw new InputError(`limits.${i}.of`, "has limits already");
    }
    readLimits(limit, `limits.${i}`);
  });
}

function requireSizeClasses(definition: MethodDefinition): void {
  const { dimensions, derived, sizeClasses } = definition;
  if (!sizeClasses) return;
  if (![...dimensions, ...derived].some((one) => one.key === sizeClasses.of)) {
    throw new InputError("sizeClasses.of", "is not a dimension or quantity of this method");
  }
  readSizeClasses(sizeClasses, countedQuantity(sizeClasses, definition).unit);
}

function percentile(field: "lower" | "upper", { percentiles }: MethodDefinition): Decimal {
  const name = `percentiles.${field}`;
  const value = requireNotNegative(name, readDecimal(name, percentiles[field]).value);
  if (value.greaterThan(100)) throw new InputError(name, "must be at most 100");
  return value;
}

function requireReport(definition: MethodDefinition): void {
  if (!percentile("lower", definition).lessThan(percentile("upper", definition))) {
    throw new InputError("percentiles.upper", "must be greater than the lower percentile");
  }
  const { report, dimensions } = definition;
  const isPair = report.kind === "spore notation" || report.kind === "pollen P and E";
  if (isPair && dimensions.length < 2) {
    throw new InputError("report.kind", "needs two dimensions: it is of length and width");
  }
}

/**
 * Checks everything of a method that its schema cannot say.
 * @throws InputError with the path of the field within the definition, `derived.0.of` …
 */
export function requireMethodDefinition(definition: MethodDefinition): void {
  requireOwnKeys(definition);
  readReadingConditions(definition.reading);
  const { minimumDivisions, wantedPercent } = definition;
  if (minimumDivisions.trim() !== "") {
    requireNotNegative("minimumDivisions", readDecimal("minimumDivisions", minimumDivisions).value);
  }
  if (wantedPercent.trim() !== "") {
    requirePositive("wantedPercent", readDecimal("wantedPercent", wantedPercent).value);
  }
  requireDerived(definition);
  requireClasses(definition);
  requireMethodLimits(definition);
  requireSizeClasses(definition);
  requireReport(definition);
}
