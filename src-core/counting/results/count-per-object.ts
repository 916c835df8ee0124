import type {
  CountInputs,
  CountMethodDefinition,
  DensityFormula,
} from "../../contract/records/count-method.ts";
import { decimal, ZERO } from "../../quantity/decimal.ts";
import { InputError } from "../../quantity/input-error.ts";
import { exactly, powerOf, type UncertainProduct } from "../../quantity/uncertain-product.ts";
import {
  type ChamberSample,
  type CountedPortion,
  chamberDensityPerObject,
  depthWithin,
} from "../areas/chamber-density.ts";
import type { CountingChamber } from "../areas/chambers.ts";
import { type AreaFactor, repeated } from "../areas/counting-area.ts";
import { drumPerObject } from "../densities/airborne-count.ts";
import { katoKatzPerObject, MCMASTER, mcMasterPerObject } from "../densities/egg-count.ts";
import { perObjectOnFilter } from "../densities/filter-count.ts";
import { markerFactor } from "../densities/marker-count.ts";
import { chamberOf, drumOf, filterOf } from "../inputs/count-choices.ts";
import { optionalInput, requiredInput, uncertainInput } from "../inputs/count-inputs.ts";
import { fieldArea, stripWidth } from "../inputs/field-area.ts";

/** What a density is made from besides the count itself. */
export interface DensityData {
  readonly definition: Pick<CountMethodDefinition, "area" | "density">;
  readonly inputs: CountInputs;
  /** The frozen factor, µm/div, and u(f); null when none was in force or none is needed. */
  readonly factor: AreaFactor | null;
  /** Fields (strips, squares, lines) counted to their end. */
  readonly fields: number;
  readonly marker: number;
}

export interface PerObject {
  /** What one counted object stands for, in the unit of the density. */
  readonly product: UncertainProduct;
  readonly warning: string | null;
}

function requireFactor(factor: AreaFactor | null): AreaFactor {
  if (!factor) throw new InputError("factor", "is missing: no calibration is frozen for this count");
  return factor;
}

function portionOf({ definition, inputs, factor, fields }: DensityData): CountedPortion {
  const { area } = definition;
  switch (area.kind) {
    case "whole":
      return { kind: "share", share: requiredInput(inputs, "share") };
    case "strip":
      return { kind: "strips", width: stripWidth(inputs, requireFactor(factor)), strips: fields };
    case "chamber-square":
      return { kind: "squares", square: area.square, squares: fields };
    default:
      return { kind: "fields", area: fieldArea(definition, inputs, factor), fields };
  }
}

function sampleOf(chamber: CountingChamber, inputs: CountInputs): ChamberSample {
  const halfWidth = optionalInput(inputs, "depthHalfWidth") ?? ZERO;
  const dilution = optionalInput(inputs, "dilution")
    ? { dilution: uncertainInput(inputs, "dilution", "dilutionUncertainty", "") }
    : {};
  if (chamber.depth === null) {
    const settledVolume = uncertainInput(inputs, "settledVolume", "settledVolumeUncertainty", "mL");
    return { settledVolume, ...dilution };
  }
  return halfWidth.isZero()
    ? dilution
    : { depth: depthWithin(decimal(chamber.depth), halfWidth), ...dilution };
}

function byChamber(
  data: DensityData,
  formula: Extract<DensityFormula, { kind: "chamber" }>,
): UncertainProduct {
  const chamber = chamberOf(formula.chamber);
  return chamberDensityPerObject(chamber, portionOf(data), sampleOf(chamber, data.inputs));
}

function byFilter(
  { definition, inputs, factor, fields }: DensityData,
  { filter, per }: Extract<DensityFormula, { kind: "on-filter" }>,
): UncertainProduct {
  const part = repeated(fieldArea(definition, inputs, factor), "fields", fields);
  const amount = uncertainInput(inputs, "sampleSize", "sampleSizeUncertainty", per);
  return perObjectOnFilter(part, effectiveAreaOf(filterOf(filter).effectiveArea), amount, `/${per}`);
}

function byMarker({ inputs, marker }: DensityData, unit: string): PerObject {
  const tablets = requiredInput(inputs, "markerTablets");
  if (!tablets.isInteger()) throw new InputError("markerTablets", "must be a whole number");
  const { perObject, warning } = markerFactor(
    marker,
    {
      tablets: tablets.toNumber(),
      sporesPerTablet: requiredInput(inputs, "sporesPerTablet"),
      deviation: optionalInput(inputs, "sporesDeviation") ?? ZERO,
    },
    uncertainInput(inputs, "sampleSize", "sampleSizeUncertainty", unit),
  );
  return { product: perObject, warning };
}

function byMcMaster({ inputs }: DensityData): UncertainProduct {
  return mcMasterPerObject({
    ...MCMASTER,
    mass: requiredInput(inputs, "mass").toFixed(),
    suspension: requiredInput(inputs, "suspension").toFixed(),
    read: requiredInput(inputs, "readVolume").toFixed(),
  });
}

/**
 * What one counted object stands for by the method's formula; null for a method without a density, and for fibres, whose
 * net count is not proportional to what was counted.
 * @throws InputError naming the input, area or factor that is missing
 */
export function perObjectOf(data: DensityData): PerObject | null {
  const { definition, inputs, factor, fields } = data;
  const { density } = definition;
  switch (density.kind) {
    case "none":
    case "fibres":
      return null;
    case "per-area": {
      const area = repeated(fieldArea(definition, inputs, factor), "fields", fields);
      return { product: powerOf(area, -1, "/mm²"), warning: null };
    }
    case "chamber":
      return { product: byChamber(data, density), warning: null };
    case "on-filter":
      return { product: byFilter(data, density), warning: null };
    case "marker":
      return byMarker(data, density.sampleUnit);
    case "drum": {
      const width = stripWidth(inputs, requireFactor(factor));
      return { product: drumPerObject(width, fields, drumOf(density.drum)), warning: null };
    }
    case "mcmaster":
      return { product: byMcMaster(data), warning: null };
    case "kato-katz": {
      const by =
        density.by === "multiplier"
          ? ("multiplier" as const)
          : { template: requiredInput(inputs, "template") };
      return { product: katoKatzPerObject(by), warning: null };
    }
  }
}

/** The power of the factor in a density: −2 through an area, −1 through the width of a strip, 0 without a factor. */
export function factorPowerOf({ area, density }: Pick<CountMethodDefinition, "area" | "density">): number {
  const byArea = ["per-area", "fibres", "chamber", "on-filter"].includes(density.kind);
  if (area.kind === "strip") return byArea || density.kind === "drum" ? -1 : 0;
  const squared = area.kind === "circle" || area.kind === "square" || area.kind === "rectangle";
  return squared && byArea ? -2 : 0;
}

/** Air volume of a fibre count, L. @throws InputError when it is missing */
export function airVolumeOf(inputs: CountInputs): UncertainProduct {
  return uncertainInput(inputs, "airVolume", "airVolumeUncertainty", "L");
}

/** The effective area of a filter, taken as exact, mm². */
export function effectiveAreaOf(squareMillimetres: string): UncertainProduct {
  return exactly("effectiveArea", squareMillimetres, "mm²");
}
