import type { CountInputs, CountMethodDefinition, InputKey } from "../../contract/records/count-method.ts";
import type { Decimal } from "../../quantity/decimal.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError, requireNotNegative } from "../../quantity/input-error.ts";
import { exactly, type UncertainProduct, withUncertainty } from "../../quantity/uncertain-product.ts";
import { chamberOf } from "./count-choices.ts";

/** One input that a count method asks for; the form of a count is built from these. */
export interface AskedInput {
  readonly key: InputKey;
  readonly name: string;
  /** Empty for a number without unit. */
  readonly unit: string;
  /** Without it there is no density; an input that is not required counts as 0, or as 1 for a dilution. */
  readonly required: boolean;
}

const INPUTS: { readonly [K in InputKey]: Omit<AskedInput, "key"> } = {
  diameter: { name: "diameter of the field", unit: "div", required: true },
  side: { name: "side of the grid square", unit: "div", required: true },
  width: { name: "width", unit: "div", required: true },
  height: { name: "height of the field", unit: "div", required: true },
  readingUncertainty: { name: "standard uncertainty of that reading", unit: "div", required: false },
  share: { name: "share of the chamber counted (1 is all of it)", unit: "", required: true },
  dilution: {
    name: "dilution (10 for 1 in 10; 0.05 for 500 mL concentrated to 25 mL)",
    unit: "",
    required: false,
  },
  dilutionUncertainty: { name: "standard uncertainty of the dilution", unit: "", required: false },
  settledVolume: { name: "volume settled", unit: "mL", required: true },
  settledVolumeUncertainty: { name: "standard uncertainty of the volume", unit: "mL", required: false },
  depthHalfWidth: { name: "depth of the chamber known to ±", unit: "mm", required: false },
  blankCount: { name: "objects on the blank", unit: "", required: false },
  blankFields: { name: "fields of the blank", unit: "", required: false },
  airVolume: { name: "volume of air", unit: "L", required: true },
  airVolumeUncertainty: { name: "standard uncertainty of the air volume", unit: "L", required: false },
  markerTablets: { name: "marker tablets added", unit: "", required: true },
  sporesPerTablet: { name: "spores in one tablet", unit: "", required: true },
  sporesDeviation: { name: "standard deviation between tablets", unit: "", required: false },
  sampleSize: { name: "size of the sample", unit: "", required: true },
  sampleSizeUncertainty: { name: "standard uncertainty of the sample size", unit: "", required: false },
  mass: { name: "mass of the sample", unit: "g", required: true },
  suspension: { name: "volume of the suspension", unit: "mL", required: true },
  readVolume: { name: "volume read", unit: "mL", required: true },
  template: { name: "mass held by the template", unit: "mg", required: true },
};

const BY_AREA: { readonly [K in CountMethodDefinition["area"]["kind"]]: readonly InputKey[] } = {
  circle: ["diameter", "readingUncertainty"],
  square: ["side", "readingUncertainty"],
  rectangle: ["width", "height", "readingUncertainty"],
  strip: ["width", "readingUncertainty"],
  nominal: [],
  "chamber-square": [],
  whole: ["share"],
  none: [],
};

function byDensity({ density }: CountMethodDefinition): readonly InputKey[] {
  switch (density.kind) {
    case "chamber": {
      const settled = chamberOf(density.chamber).depth === null;
      return [
        ...(settled
          ? (["settledVolume", "settledVolumeUncertainty"] as const)
          : (["depthHalfWidth"] as const)),
        "dilution",
        "dilutionUncertainty",
      ];
    }
    case "fibres":
      return ["blankCount", "blankFields", "airVolume", "airVolumeUncertainty"];
    case "on-filter":
      return ["sampleSize", "sampleSizeUncertainty"];
    case "marker":
      return ["markerTablets", "sporesPerTablet", "sporesDeviation", "sampleSize", "sampleSizeUncertainty"];
    case "mcmaster":
      return ["mass", "suspension", "readVolume"];
    case "kato-katz":
      return density.by === "template" ? ["template"] : [];
    default:
      return [];
  }
}

function unitOf(key: InputKey, { density }: CountMethodDefinition): string {
  const bySample = key === "sampleSize" || key === "sampleSizeUncertainty";
  if (bySample && density.kind === "marker") return density.sampleUnit;
  return bySample && density.kind === "on-filter" ? density.per : INPUTS[key].unit;
}

/** The inputs a method asks for, in the order of the form. */
export function inputsAskedBy(definition: CountMethodDefinition): readonly AskedInput[] {
  return [...BY_AREA[definition.area.kind], ...byDensity(definition)].map((key) => ({
    key,
    ...INPUTS[key],
    unit: unitOf(key, definition),
  }));
}

/** Words for an input, as on the form. */
export function nameOfInput(key: InputKey): string {
  return INPUTS[key].name;
}

function isEmpty(inputs: CountInputs, key: InputKey): boolean {
  return (inputs[key] ?? "").trim() === "";
}

/** A typed input, zero or more; null when it was not typed. @throws InputError when it cannot be read */
export function optionalInput(inputs: CountInputs, key: InputKey): Decimal | null {
  if (isEmpty(inputs, key)) return null;
  return requireNotNegative(key, readDecimal(key, inputs[key] ?? "").value);
}

/** @throws InputError when the input is missing or cannot be read */
export function requiredInput(inputs: CountInputs, key: InputKey): Decimal {
  const value = optionalInput(inputs, key);
  if (value === null) throw new InputError(key, "is missing");
  return value;
}

/** An input with the standard uncertainty typed beside it; exact without one. */
export function uncertainInput(
  inputs: CountInputs,
  key: InputKey,
  uncertainty: InputKey,
  unit: string,
): UncertainProduct {
  const value = requiredInput(inputs, key);
  const standardUncertainty = optionalInput(inputs, uncertainty);
  if (standardUncertainty === null || standardUncertainty.isZero()) return exactly(key, value, unit);
  return withUncertainty(key, { value, unit, standardUncertainty }, { key, name: nameOfInput(key) });
}

/** Checks that every input typed can be read; missing ones are no fault here. @throws InputError naming the input */
export function requireReadableInputs(inputs: CountInputs): void {
  for (const key of Object.keys(inputs) as InputKey[]) optionalInput(inputs, key);
}
