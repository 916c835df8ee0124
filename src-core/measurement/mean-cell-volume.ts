import type { FactorRecord } from "../contract/records/calibration.ts";
import type { VolumeOfSheet } from "../contract/records/cell-volume.ts";
import type { MethodDefinition } from "../contract/records/method.ts";
import type { Measurement } from "../contract/records/sheet.ts";
import { type Decimal, decimal, rootSumOfSquares, sumOf, ZERO } from "../quantity/decimal.ts";
import { textOfDecimal } from "../quantity/decimal-text.ts";
import { InputError } from "../quantity/input-error.ts";
import { mean, standardDeviation } from "../statistics/sample.ts";
import { shapeOfKind } from "./derived-kind.ts";
import { type DerivedPart, type Effects, effectsOf } from "./derived-quantity.ts";
import { partOf, volumeOfParts } from "./row-quantities.ts";

/** The volumes that a method derives, one for each shape it names. */
export function volumesOfMethod({ derived }: Pick<MethodDefinition, "derived">): MethodDefinition["derived"] {
  return derived.filter(({ kind }) => shapeOfKind(kind) !== null);
}

interface Cell {
  readonly volume: Decimal;
  readonly effects: Effects;
}

type Row = { readonly measurements: readonly Measurement[] };
type FactorOf = (calibrationId: string) => FactorRecord | null;

/** One cell of a row; null while a size that the shape needs is missing or impossible in it. */
function cellOf(
  { measurements }: Row,
  derived: MethodDefinition["derived"][number],
  definition: MethodDefinition,
  factorOf: FactorOf,
): Cell | null {
  const measured = new Map<string, DerivedPart>();
  for (const key of derived.of) {
    const measurement = measurements.find(({ dimension }) => dimension === key);
    const part = measured.get(key) ?? partOf(measurement, definition, factorOf);
    if (!part) return null;
    measured.set(key, part);
  }
  const parts = derived.of.flatMap((key) => measured.get(key) ?? []);
  try {
    const { value, parts: once, partials } = volumeOfParts(derived.kind, parts);
    return { volume: value, effects: effectsOf(once, partials) };
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

const NAMES: Readonly<Record<string, string>> = { edges: "where the edges lie, both alike" };

function nameOf(key: string): string {
  return NAMES[key] ?? (key.startsWith("factor ") ? "calibration factor, cubed" : key);
}

/** What the cells share: Σ over the cells with its sign, over the sum of their volumes. */
function sharedDoubts(cells: readonly Cell[], total: Decimal): VolumeOfSheet["components"] {
  const sums = new Map<string, Decimal>();
  for (const { effects } of cells) {
    for (const [key, { sum }] of effects.shared) sums.set(key, (sums.get(key) ?? ZERO).plus(sum));
  }
  return [...sums].map(([key, sum]) => ({
    // A factor may be that of the counted area too; how edges are read is the measurer's own.
    key: key.startsWith("factor ") ? key : `cells ${key}`,
    name: nameOf(key),
    relative: textOfDecimal(sum.div(total)),
  }));
}

/** s/√n of the volumes; of one cell its own readings, because nothing is known of how cells differ. */
function ownDoubt(cells: readonly Cell[], average: Decimal): Decimal {
  const [only] = cells;
  if (only && cells.length === 1) {
    return rootSumOfSquares(only.effects.own.map(({ contribution }) => contribution)).div(average);
  }
  return standardDeviation(cells.map(({ volume }) => volume))
    .div(decimal(cells.length).sqrt())
    .div(average);
}

/**
 * Mean volume of the cells of some rows with its doubts: the scatter between the cells, s/√n with n − 1 degrees of
 * freedom, which holds the reading of each; and what all cells share, the calibration factor cubed and edges biased
 * alike, once with its sign. The mean of the volumes is used, not the volume of mean dimensions: H. Hillebrand et al.
 * (1999), EN 16695:2015; from memory.
 * @param quantity key of a volume of the method
 * @throws InputError `quantity` when the method has no such volume, `label` when no row has it whole
 */
export function meanVolumeOfRows(
  rows: readonly Row[],
  definition: MethodDefinition,
  quantity: string,
  factorOf: FactorOf,
): Pick<VolumeOfSheet, "quantity" | "name" | "cells" | "volume" | "components"> {
  const derived = volumesOfMethod(definition).find(({ key }) => key === quantity);
  if (!derived) throw new InputError("quantity", "is not a volume of that sheet's method");
  const cells = rows.flatMap((row) => cellOf(row, derived, definition, factorOf) ?? []);
  if (cells.length === 0) throw new InputError("label", "is on no row of the sheet with a whole volume");
  const volumes = cells.map(({ volume }) => volume);
  const average = mean(volumes);
  const own = {
    key: "cells",
    name: "scatter between the cells",
    relative: textOfDecimal(ownDoubt(cells, average)),
  };
  return {
    quantity,
    name: derived.name,
    cells: cells.length,
    volume: textOfDecimal(average),
    components: [own, ...sharedDoubts(cells, sumOf(volumes))],
  };
}
