import type { FactorRecord } from "../contract/records/calibration.ts";
import type { DerivedDefinition, MethodDefinition } from "../contract/records/method.ts";
import type { Measurement } from "../contract/records/sheet.ts";
import { cellVolume, volumeDerivative } from "../methods/cell-volume.ts";
import { classify, wordsOf } from "../methods/class-table.ts";
import { objectClassTable } from "../methods/class-tables.ts";
import { type Decimal, decimal, ONE, ZERO } from "../quantity/decimal.ts";
import { type DecimalText, textOfDecimal } from "../quantity/decimal-text.ts";
import { InputError } from "../quantity/input-error.ts";
import { reportWithUncertainty } from "../quantity/rounding.ts";
import { plainForm, shapeOfKind, unitOfDerived } from "./derived-kind.ts";
import {
  type DerivedPart,
  type DerivedQuantity,
  powerProduct,
  quantityFromPartials,
  weightedSum,
} from "./derived-quantity.ts";
import { formulaAt, storedFormula } from "./formulas/formula.ts";
import { completeReadings, readingsOf } from "./readings.ts";
import { sizeOfReadings } from "./typed-reading.ts";

/** A derived quantity of one row, in its unit (1, µm, µm² or µm³). */
export interface RowQuantity {
  readonly key: string;
  readonly name: string;
  readonly unit: string;
  readonly value: DecimalText;
  readonly standardUncertainty: DecimalText;
  readonly expandedUncertainty: DecimalText;
  readonly coverageFactor: DecimalText;
  /** Null: infinite. */
  readonly degreesOfFreedom: DecimalText | null;
  /** Rounded together, U to two significant digits (JCGM 100:2008 7.2.6). */
  readonly shownValue: string;
  readonly shownUncertainty: string;
}

/** A quantity that cannot be computed for this row, with the reason. */
export interface MissingQuantity {
  readonly key: string;
  readonly name: string;
  readonly unit: string;
  readonly missing: string;
}

/** The class of a dimension or derived quantity of one row. */
export interface RowClass {
  readonly of: string;
  readonly tableId: string;
  readonly kind: "class" | "boundary" | "gap" | "outside";
  readonly words: string;
}

export interface RowQuantities {
  readonly derived: readonly (RowQuantity | MissingQuantity)[];
  readonly classes: readonly RowClass[];
}

type FactorOf = (calibrationId: string) => FactorRecord | null;
type Definition = Pick<
  MethodDefinition,
  "dimensions" | "reading" | "coverage" | "rounding" | "derived" | "classes"
>;

/** A measured size with its budget, recomputed from its readings and the factor it is frozen to. */
export function partOf(
  measurement: Measurement | undefined,
  definition: Definition,
  factorOf: FactorOf,
): DerivedPart | null {
  if (!measurement?.size || measurement.calibrationId === null) return null;
  const factor = factorOf(measurement.calibrationId);
  if (!factor) return null;
  const { dimension } = measurement;
  const result = sizeOfReadings(completeReadings(readingsOf(measurement)), factor, { dimension, definition });
  return { result, calibrationId: measurement.calibrationId };
}

function largest(parts: readonly DerivedPart[], coverage: Definition["coverage"]): DerivedQuantity {
  let index = 0;
  parts.forEach((part, i) => {
    if (part.result.size.greaterThan(parts[index]?.result.size ?? ZERO)) index = i;
  });
  return weightedSum(
    parts,
    parts.map((_, i) => (i === index ? ONE : ZERO)),
    coverage,
  );
}

/** A volume, µm³, with the sizes it follows from and ∂V/∂d of each, µm². */
export interface VolumeOfParts {
  readonly value: Decimal;
  readonly parts: readonly DerivedPart[];
  readonly partials: readonly Decimal[];
}

/**
 * The volume of a shape from sizes in the order of its inputs.
 * @throws InputError `kind` for a kind that is no shape, and for sizes that are impossible in it
 */
export function volumeOfParts(kind: string, parts: readonly DerivedPart[]): VolumeOfParts {
  const shape = shapeOfKind(kind);
  if (!shape) throw new InputError("kind", "is not a quantity this program can derive");
  const dimensions: Record<string, Decimal> = {};
  shape.inputs.forEach(({ key }, i) => {
    const part = parts[i];
    if (part) dimensions[key] = part.result.size;
  });
  // One size may stand for two inputs, such as a depth taken equal to the width: it is one error, not two.
  const partials = new Map<DerivedPart, Decimal>();
  shape.inputs.forEach(({ key }, i) => {
    const part = parts[i];
    if (!part) return;
    partials.set(part, (partials.get(part) ?? ZERO).plus(volumeDerivative(shape, dimensions, key)));
  });
  return {
    value: cellVolume(shape, dimensions),
    parts: [...partials.keys()],
    partials: [...partials.values()],
  };
}

/**
 * A derived quantity of sizes in the order of its inputs. A factor that several of them share is one error: it falls out
 * of a ratio and counts three times in a volume.
 * @throws InputError for sizes that are impossible in the shape, or not greater than zero where divided by
 */
export function derivedOfParts(
  kind: string,
  parts: readonly DerivedPart[],
  coverage: Definition["coverage"],
): DerivedQuantity {
  if (parts.length === 0) throw new InputError("parts", "must not be empty");
  const form = plainForm(kind);
  if (form?.by === "product") return powerProduct(parts, form.powers, form.coefficient, coverage);
  if (form?.by === "sum") return weightedSum(parts, form.weights(parts.length), coverage);
  if (form?.by === "largest") return largest(parts, coverage);
  const volume = volumeOfParts(kind, parts);
  return quantityFromPartials(volume.value, volume.parts, volume.partials, coverage);
}

/** A derived quantity of a method from the sizes of its dimensions, in their order. @throws InputError as `derivedOfParts` */
function derivedOfRow(
  { kind, formula, of }: DerivedDefinition,
  parts: readonly DerivedPart[],
  coverage: Definition["coverage"],
): DerivedQuantity {
  if (formula === undefined) return derivedOfParts(kind, parts, coverage);
  const sizes = new Map(of.map((key, at) => [key, parts[at]?.result.size ?? ZERO]));
  const { value, partials } = formulaAt(storedFormula(formula, of), sizes);
  return quantityFromPartials(value, parts, partials, coverage);
}

function quantityOf(
  derived: DerivedDefinition,
  partsOf: (dimension: string) => DerivedPart | null,
  definition: Definition,
): RowQuantity | MissingQuantity {
  const { key, name } = derived;
  const unit = unitOfDerived(derived);
  const parts: DerivedPart[] = [];
  for (const dimension of derived.of) {
    const part = partsOf(dimension);
    if (!part) {
      const named = definition.dimensions.find((one) => one.key === dimension)?.name ?? dimension;
      return { key, name, unit, missing: `${named} has no size` };
    }
    parts.push(part);
  }
  try {
    const { value, uncertainty } = derivedOfRow(derived, parts, definition.coverage);
    const shown = reportWithUncertainty(value, uncertainty.expanded, definition.rounding);
    return {
      key,
      name,
      unit,
      value: textOfDecimal(value),
      standardUncertainty: textOfDecimal(uncertainty.standard),
      expandedUncertainty: textOfDecimal(uncertainty.expanded),
      coverageFactor: textOfDecimal(uncertainty.coverageFactor),
      degreesOfFreedom: uncertainty.degreesOfFreedom && textOfDecimal(uncertainty.degreesOfFreedom),
      shownValue: shown.value,
      shownUncertainty: shown.uncertainty,
    };
  } catch (error) {
    if (error instanceof InputError) return { key, name, unit, missing: `a size ${error.reason}` };
    throw error;
  }
}

/**
 * Derived quantities and classes of one row from its frozen sizes; the same in the window, the workbook and when the
 * bench is verified.
 * @param factorOf the frozen factor of a calibration; null when it is not at hand
 */
export function rowQuantities(
  row: { readonly measurements: readonly Measurement[] },
  definition: Definition,
  factorOf: FactorOf,
): RowQuantities {
  const measurementOf = (dimension: string): Measurement | undefined =>
    row.measurements.find((one) => one.dimension === dimension);
  const parts = new Map<string, DerivedPart | null>();
  const partsOf = (dimension: string): DerivedPart | null => {
    const known = parts.get(dimension);
    if (known !== undefined) return known;
    const part = partOf(measurementOf(dimension), definition, factorOf);
    parts.set(dimension, part);
    return part;
  };
  const derived = definition.derived.map((one) => quantityOf(one, partsOf, definition));
  const sizeOrQuantity = (key: string): Decimal | null => {
    const size = measurementOf(key)?.size;
    if (size) return decimal(size.value);
    const quantity = derived.find((one) => one.key === key);
    return quantity && "value" in quantity ? decimal(quantity.value) : null;
  };
  const classes = definition.classes.flatMap(({ of, tableId }): RowClass[] => {
    const table = objectClassTable(tableId);
    const value = sizeOrQuantity(of);
    if (!table || value === null) return [];
    const classification = classify(value, table);
    return [{ of, tableId, kind: classification.kind, words: wordsOf(classification) }];
  });
  return { derived, classes };
}
