import type { CountInputs, CountMethodDefinition } from "../../contract/records/count-method.ts";
import { ZERO } from "../../quantity/decimal.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError } from "../../quantity/input-error.ts";
import type { UncertainProduct } from "../../quantity/uncertain-product.ts";
import {
  type AreaFactor,
  type AreaReading,
  calibratedLength,
  circleArea,
  nominalArea,
  rectangleArea,
  squareArea,
} from "../areas/counting-area.ts";
import { optionalInput, requiredInput } from "./count-inputs.ts";

type AreaKind = CountMethodDefinition["area"]["kind"];

const BY_FACTOR: readonly AreaKind[] = ["circle", "square", "rectangle", "strip"];
const BY_FIELDS: readonly AreaKind[] = [...BY_FACTOR, "nominal", "chamber-square"];

/** True when the area takes its length from the calibrated factor, so that the count needs a train. */
export function needsFactor(definition: Pick<CountMethodDefinition, "area">): boolean {
  return BY_FACTOR.includes(definition.area.kind);
}

/** True when the number of fields enters the density, so that a field in hand must be finished first. */
export function countsByFields(definition: Pick<CountMethodDefinition, "area">): boolean {
  return BY_FIELDS.includes(definition.area.kind);
}

function reading(inputs: CountInputs, key: "diameter" | "side" | "width" | "height"): AreaReading {
  return {
    divisions: requiredInput(inputs, key),
    standardUncertainty: optionalInput(inputs, "readingUncertainty") ?? ZERO,
  };
}

/**
 * Width of a strip, mm, from the calibrated factor.
 * @throws InputError when the reading is missing
 */
export function stripWidth(inputs: CountInputs, factor: AreaFactor): UncertainProduct {
  return calibratedLength("width", reading(inputs, "width"), factor);
}

/**
 * Area of one field, mm²: π/4·(D·f)² of a circle, (a·f)² of a square, (a·f)·(b·f) of a rectangle, or the area stated.
 * @throws InputError when a reading is missing or the area is none of these
 */
export function fieldArea(
  definition: Pick<CountMethodDefinition, "area">,
  inputs: CountInputs,
  factor: AreaFactor | null,
): UncertainProduct {
  const { area } = definition;
  if (area.kind === "nominal") return nominalArea(readDecimal("area", area.area).text);
  if (!factor) throw new InputError("factor", "is missing: no calibration is frozen for this count");
  switch (area.kind) {
    case "circle":
      return circleArea(reading(inputs, "diameter"), factor);
    case "square":
      return squareArea(reading(inputs, "side"), factor);
    case "rectangle":
      return rectangleArea(reading(inputs, "width"), reading(inputs, "height"), factor);
    default:
      throw new InputError("area", "is not the area of a field");
  }
}
