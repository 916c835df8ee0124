import type { CountInputs, CountMethodDefinition } from "#core/contract/records/count-method.ts";
import type { AreaFactor } from "#core/counting/areas/counting-area.ts";
import type { FieldCounts } from "#core/counting/inputs/field-counts.ts";
import type { CountData } from "#core/counting/results/count-results.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";

/** A factor as frozen, µm/div. */
export function areaFactor(factor: string, standardUncertainty = "0"): AreaFactor {
  return { factor: decimal(factor), standardUncertainty: decimal(standardUncertainty) };
}

/** Fields with the objects given by category. */
export function fieldCounts(fields: readonly Readonly<Record<string, number>>[]): FieldCounts[] {
  return fields.map((field) => ({
    counts: Object.fromEntries(
      Object.entries(field).map(([key, objects]) => [key, textOfDecimal(decimal(objects))]),
    ),
    presses: Object.fromEntries(Object.entries(field).map(([key, objects]) => [key, Math.ceil(objects)])),
  }));
}

/** A total of one category spread as evenly as whole numbers allow over fields. */
export function spread(total: number, fields: number, key: string): FieldCounts[] {
  return fieldCounts(
    Array.from({ length: fields }, (_, i) => ({
      [key]: Math.floor(total / fields) + (i < total % fields ? 1 : 0),
    })),
  );
}

/** A finished count under a method. */
export function countData(
  definition: CountMethodDefinition,
  fields: readonly FieldCounts[],
  inputs: CountInputs = {},
  factor: AreaFactor | null = null,
): CountData {
  return {
    definition,
    categories: definition.categories,
    inputs: { ...definition.suggestedInputs, ...inputs },
    factor,
    fields,
    lastFieldCounted: true,
    seconds: 0,
  };
}
