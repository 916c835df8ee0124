import type { DerivedDefinition, MethodDefinition } from "../../contract/records/method.ts";
import { objectClassTable } from "../../methods/class-tables.ts";
import type { Decimal } from "../../quantity/decimal.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError } from "../../quantity/input-error.ts";
import { type NumberRule, problemOfNumber } from "../../quantity/number-rule.ts";
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

function requireReport({ report, dimensions, percentiles: { lower, upper } }: MethodDefinition): void {
  if (!decimalOf(lower).lessThan(decimalOf(upper))) {
    throw new InputError("percentiles.upper", "must be greater than the lower percentile");
  }
  const isPair = report.kind === "spore notation" || report.kind === "pollen P and E";
  if (isPair && dimensions.length < 2) {
    throw new InputError("report.kind", "needs two dimensions: it is of length and width");
  }
}

const decimalOf = (typed: string): Decimal => readDecimal("number", typed).value;

/** What of a method is typed as a number, also while it is being written. */
export interface NumbersOfMethod
  extends Pick<MethodDefinition, "minimumDivisions" | "wantedPercent" | "reading"> {
  readonly percentiles: { readonly lower: string; readonly upper: string };
  readonly limits?: readonly { readonly lower: string; readonly upper: string }[] | undefined;
  readonly sizeClasses?:
    | { readonly limits: readonly { readonly from: string; readonly most: string }[] }
    | undefined;
}

const NOT_NEGATIVE: NumberRule = { sign: "not negative" };
const PER_CENT: NumberRule = { sign: "not negative", most: 100 };
/** Left empty: taken as known. */
const FREEDOM: NumberRule = { optional: true, sign: "positive" };

/** Every typed number of a method: its path within the definition, its text, and which numbers it may be. */
export function numbersOfMethod(
  of: NumbersOfMethod,
): readonly (readonly [path: string, typed: string, rule: NumberRule])[] {
  const { reading, percentiles, limits = [], sizeClasses } = of;
  return [
    ["minimumDivisions", of.minimumDivisions, { optional: true, sign: "not negative" }],
    ["wantedPercent", of.wantedPercent, { optional: true, sign: "positive" }],
    ["percentiles.lower", percentiles.lower, PER_CENT],
    ["percentiles.upper", percentiles.upper, PER_CENT],
    ["reading.smallestFraction", reading.smallestFraction, NOT_NEGATIVE],
    ["reading.repeatability", reading.repeatability, NOT_NEGATIVE],
    ["reading.repeatabilityDegreesOfFreedom", reading.repeatabilityDegreesOfFreedom, FREEDOM],
    ["reading.alignmentHalfAngle", reading.alignmentHalfAngle, NOT_NEGATIVE],
    ["reading.edgeHalfWidth", reading.edgeHalfWidth, NOT_NEGATIVE],
    ["reading.edgeDegreesOfFreedom", reading.edgeDegreesOfFreedom, FREEDOM],
    ...limits.flatMap(({ lower, upper }, row) => [
      [`limits.${row}.lower`, lower, { optional: true }] as const,
      [`limits.${row}.upper`, upper, { optional: true }] as const,
    ]),
    ...(sizeClasses?.limits ?? []).flatMap(({ from, most }, row) => [
      [`sizeClasses.limits.${row}.from`, from, NOT_NEGATIVE] as const,
      [`sizeClasses.limits.${row}.most`, most, { optional: true, sign: "not negative" }] as const,
    ]),
  ];
}

function requireNumbers(definition: MethodDefinition): void {
  for (const [path, typed, rule] of numbersOfMethod(definition)) {
    const reason = problemOfNumber(typed, rule);
    if (reason !== null) throw new InputError(path, reason);
  }
}

/**
 * Checks everything of a method that its schema cannot say.
 * @throws InputError with the path of the field within the definition, `derived.0.of` …
 */
export function requireMethodDefinition(definition: MethodDefinition): void {
  requireOwnKeys(definition);
  requireNumbers(definition);
  readReadingConditions(definition.reading);
  requireDerived(definition);
  requireClasses(definition);
  requireMethodLimits(definition);
  requireSizeClasses(definition);
  requireReport(definition);
}
