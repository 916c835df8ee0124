import type { z } from "zod";
import { type Method, MethodDefinition } from "#core/contract/records/method.ts";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { problemsBySchema, problemsOfNumbers } from "../../parts/form-checks.ts";
import { type FieldErrors, withoutBlankEnd } from "../../parts/form-values.ts";

export type MethodTyped = z.input<typeof MethodDefinition>;

export const EMPTY_DIMENSION = { key: "", name: "" };

/** A method to start from: one dimension to name, reading conditions at their stated defaults. */
export const EMPTY_METHOD: MethodTyped = {
  name: "",
  dimensions: [EMPTY_DIMENSION],
  edgeConvention: "",
  reading: defaultTypedReadingConditions(),
  coverage: "t95",
  rounding: "half-even",
  minimumDivisions: "20",
  note: "",
};

/** A copy to change into the next version. */
export function typedFrom(method: Method): MethodTyped {
  return structuredClone(method.definition);
}

/** Column name of a dimension from its name: `Polar axis` → `polar_axis`. */
export function keyFromName(name: string): string {
  const plain = name
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "_")
    .replace(/^[^a-z]+|_+$/g, "");
  return plain.slice(0, 20).replace(/_+$/, "");
}

export function methodInput(typed: MethodTyped): MethodTyped {
  return {
    ...typed,
    dimensions: withoutBlankEnd(typed.dimensions, (one) => `${one.name}${one.key}`.trim() === "").map(
      (one) => ({
        name: one.name,
        key: one.key.trim() === "" ? keyFromName(one.name) : one.key.trim(),
      }),
    ),
  };
}

function takenTwice(typed: MethodTyped): FieldErrors {
  const keys = methodInput(typed).dimensions.map((one) => one.key);
  const errors: Record<string, string> = {};
  keys.forEach((key, index) => {
    if (key !== "" && keys.indexOf(key) < index) {
      errors[`dimensions.${index}.key`] = `“${key}” names a column already: type another short word`;
    }
  });
  return errors;
}

export function methodProblems(typed: MethodTyped): FieldErrors {
  const { reading } = typed;
  return {
    ...problemsBySchema(MethodDefinition, methodInput(typed)),
    ...problemsOfNumbers([
      ["minimumDivisions", typed.minimumDivisions, { sign: "not negative" }],
      ["reading.smallestFraction", reading.smallestFraction, { sign: "not negative" }],
      ["reading.repeatability", reading.repeatability, { sign: "not negative" }],
      [
        "reading.repeatabilityDegreesOfFreedom",
        reading.repeatabilityDegreesOfFreedom,
        { optional: true, sign: "positive" },
      ],
      ["reading.alignmentHalfAngle", reading.alignmentHalfAngle, { sign: "not negative" }],
      ["reading.edgeHalfWidth", reading.edgeHalfWidth, { sign: "not negative" }],
      ["reading.edgeDegreesOfFreedom", reading.edgeDegreesOfFreedom, { optional: true, sign: "positive" }],
    ]),
    ...takenTwice(typed),
  };
}
