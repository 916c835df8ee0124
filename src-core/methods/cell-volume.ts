import { type Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { InputError, requireNotNegative, requirePositive } from "../quantity/input-error.ts";
import type { RelativeComponent, UncertainProduct } from "../quantity/uncertain-product.ts";
import { mean } from "../statistics/sample.ts";
import type { BiovolumeShape, VolumeTerm } from "./biovolume-shapes.ts";

/** Measured lengths of one cell by the keys of its shape, µm. */
export type CellDimensions = Readonly<Record<string, Decimal>>;

function dimensionOf(dimensions: CellDimensions, key: string): Decimal {
  const value = dimensions[key];
  if (value === undefined) throw new InputError(key, "is missing for this shape");
  return requirePositive(key, value);
}

function requireDimensions(shape: BiovolumeShape, dimensions: CellDimensions): void {
  for (const input of shape.inputs) dimensionOf(dimensions, input.key);
  for (const key of Object.keys(dimensions)) {
    if (!shape.inputs.some((input) => input.key === key)) {
      throw new InputError(key, `is not a dimension of a ${shape.name}`);
    }
  }
  // The rounded ends must fit into the total length.
  const { d, h } = dimensions;
  if (shape.id === "capsule" && d && h?.lessThan(d)) {
    throw new InputError("h", "must not be less than the diameter: it is the total length");
  }
  if (shape.id === "cone-half-sphere" && d && h?.lessThan(d.div(2))) {
    throw new InputError("h", "must not be less than half the diameter: it is the total length");
  }
}

function termValue(term: VolumeTerm, dimensions: CellDimensions): Decimal {
  let value = term.coefficient;
  for (const [key, power] of Object.entries(term.powers)) {
    value = value.times(dimensionOf(dimensions, key).pow(power));
  }
  return value;
}

/**
 * Volume of one cell, µm³.
 * @throws InputError when a dimension is missing, not greater than zero, foreign to the shape or impossible in it
 */
export function cellVolume(shape: BiovolumeShape, dimensions: CellDimensions): Decimal {
  requireDimensions(shape, dimensions);
  return shape.terms.reduce((sum, term) => sum.plus(termValue(term, dimensions)), ZERO);
}

/** ∂V/∂x by input, µm². */
export function volumeDerivative(shape: BiovolumeShape, dimensions: CellDimensions, key: string): Decimal {
  requireDimensions(shape, dimensions);
  const length = dimensionOf(dimensions, key);
  return shape.terms.reduce((sum, term) => {
    const power = term.powers[key] ?? 0;
    return power === 0 ? sum : sum.plus(termValue(term, dimensions).times(power).div(length));
  }, ZERO);
}

/** A cell measured in divisions with one factor. */
export interface MeasuredCell {
  /** Readings by key, div, with the standard uncertainty of reading each, div. */
  readonly divisions: CellDimensions;
  readonly readingUncertainty: Readonly<Record<string, Decimal>>;
  /** µm/div and u(f). */
  readonly factor: Decimal;
  readonly factorUncertainty: Decimal;
}

/**
 * Volume of a cell with its doubt by source. Every term is of third degree in the factor, so the factor enters once,
 * cubed: 3·u(f)/f; the readings enter with the derivatives of the shape.
 */
export function measuredCellVolume(shape: BiovolumeShape, cell: MeasuredCell): UncertainProduct {
  const factor = requirePositive("factor", cell.factor);
  requireNotNegative("factorUncertainty", cell.factorUncertainty);
  const inDivisions = cellVolume(shape, cell.divisions);
  const readings = shape.inputs.map(({ key, name }): RelativeComponent => {
    const doubt = requireNotNegative(`readingUncertainty.${key}`, cell.readingUncertainty[key] ?? ZERO);
    const relative = volumeDerivative(shape, cell.divisions, key).times(doubt).div(inDivisions);
    return { key: `reading-${key}`, name: `reading of the ${name}`, relative };
  });
  const ofFactor: RelativeComponent = {
    key: "factor",
    name: "calibration factor, cubed",
    relative: cell.factorUncertainty.div(factor).times(3),
  };
  return { value: inDivisions.times(factor.pow(3)), unit: "µm³", components: [ofFactor, ...readings] };
}

export interface MeanVolume {
  readonly n: number;
  /** Mean of the volumes of the cells, µm³: the value to use. */
  readonly mean: Decimal;
  /** Volume of a cell with the mean dimensions: smaller or larger than the mean, shown so that the bias is seen. */
  readonly ofMeanDimensions: Decimal;
  /** ofMeanDimensions/mean − 1. */
  readonly bias: Decimal;
}

/**
 * Mean volume of several cells of one shape. The mean of per-cell volumes is used, not the volume of mean dimensions:
 * H. Hillebrand et al. (1999), EN 16695:2015; from memory.
 */
export function meanCellVolume(shape: BiovolumeShape, cells: readonly CellDimensions[]): MeanVolume {
  if (cells.length === 0) throw new InputError("cells", "must not be empty");
  const average = mean(cells.map((cell) => cellVolume(shape, cell)));
  const dimensions: Record<string, Decimal> = {};
  for (const { key } of shape.inputs) dimensions[key] = mean(cells.map((cell) => dimensionOf(cell, key)));
  const ofMeanDimensions = cellVolume(shape, dimensions);
  return { n: cells.length, mean: average, ofMeanDimensions, bias: ofMeanDimensions.div(average).minus(1) };
}

/**
 * A hidden dimension from a fixed ratio to a measured one, as a taxon list gives it.
 * @throws InputError when the ratio is not greater than zero or the measured dimension is missing
 */
export function withHiddenDimension(
  dimensions: CellDimensions,
  hidden: { readonly key: string; readonly from: string; readonly ratio: Decimal },
): CellDimensions {
  requirePositive("ratio", hidden.ratio);
  return { ...dimensions, [hidden.key]: dimensionOf(dimensions, hidden.from).times(hidden.ratio) };
}

/**
 * A volume reduced by a fixed share, as some taxon lists prescribe (a sphere less 20 %).
 * @param share 0…1, of the volume taken away
 */
export function reducedVolume(volume: Decimal, share: Decimal): Decimal {
  requirePositive("volume", volume);
  requireNotNegative("share", share);
  if (!share.lessThan(1)) throw new InputError("share", "must be less than 1");
  return volume.times(decimal(1).minus(share));
}
