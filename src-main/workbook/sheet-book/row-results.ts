import type { FactorRecord } from "#core/contract/records/calibration.ts";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { type RowQuantities, type RowQuantity, rowQuantities } from "#core/measurement/row-quantities.ts";
import { type Derivation, derivationOf } from "./derivation.ts";
import type { Lookups } from "./lookups.ts";
import type { MethodNumbers } from "./method-cells.ts";
import type { SheetBundle } from "./sheet-bundle-type.ts";

/** Readings are in tenths, so most rows of a long sheet come again. */
const MOST_REMEMBERED = 20_000;
const NOTHING: RowQuantities = { derived: [], classes: [] };

/** A derived quantity of a row with the part of its uncertainty that rows of the sheet share. */
export interface RowResult {
  readonly quantity: RowQuantity;
  readonly common: number;
  /** ∂/∂ of each of its dimensions, in the order of its derivation. */
  readonly partials: readonly number[];
}

/** What is derived from the sizes of each row of a sheet. */
export interface RowResults {
  /** Derivations in the order of the method's derived quantities. */
  readonly derivations: readonly Derivation[];
  of(row: SpecimenRow): RowQuantities;
  /** Null where the row has no such quantity. */
  result(row: SpecimenRow, at: number): RowResult | null;
}

/**
 * The shared part of u(y): factors of one calibration together, edges of all alike, each added with its sign
 * (JCGM 100:2008 5.2.2).
 */
function commonOf(
  row: SpecimenRow,
  { dimensions }: Derivation,
  partials: readonly number[],
  lookups: Lookups,
  numbers: MethodNumbers,
): number {
  const shared = new Map<string, number>();
  const edges: number[] = [];
  let greatest = 0;
  dimensions.forEach((dimension, at) => {
    const measurement = row.measurements.find((one) => one.dimension === dimension);
    const id = measurement?.calibrationId ?? "";
    const factorU = Number(lookups.calibration(id)?.record.result?.standardUncertainty ?? 0);
    const part = Math.abs(Number(measurement?.divisions ?? 0) * (1 + numbers.correction) * factorU);
    shared.set(id, (shared.get(id) ?? 0) + (partials[at] ?? 0) * part);
    greatest = Math.max(greatest, Math.abs((partials[at] ?? 0) * part));
    edges.push((partials[at] ?? 0) * numbers.sharedEdgeU);
  });
  // A factor or an edge that falls out of a ratio leaves a last binary digit behind.
  const cleared = (sum: number, most: number): number => (Math.abs(sum) < most * 1e-12 ? 0 : sum);
  const parts = [...shared.values()].map((one) => cleared(one, greatest));
  const edge = cleared(
    edges.reduce((sum, one) => sum + one, 0),
    Math.max(0, ...edges.map(Math.abs)),
  );
  return Math.sqrt(parts.reduce((sum, one) => sum + one ** 2, 0) + edge ** 2);
}

export function rowResults(bundle: SheetBundle, lookups: Lookups, numbers: MethodNumbers): RowResults {
  const { definition } = bundle.method;
  const derivations = definition.derived.map(derivationOf);
  const plain = definition.derived.length === 0 && definition.classes.length === 0;
  const remembered = new Map<string, RowQuantities>();
  const factorOf = (id: string): FactorRecord | null => lookups.calibration(id)?.record.result ?? null;

  function of(row: SpecimenRow): RowQuantities {
    if (plain) return NOTHING;
    const key = JSON.stringify(
      row.measurements.map(({ dimension, calibrationId, left, right, direct, repeats, size }) => [
        dimension,
        size === null ? null : calibrationId,
        left,
        right,
        direct,
        repeats,
      ]),
    );
    const known = remembered.get(key);
    if (known) return known;
    const found = rowQuantities(row, definition, factorOf);
    if (remembered.size >= MOST_REMEMBERED) remembered.clear();
    remembered.set(key, found);
    return found;
  }

  return {
    derivations,
    of,
    result(row, at) {
      const quantity = of(row).derived[at];
      const derivation = derivations[at];
      if (quantity === undefined || derivation === undefined || !("value" in quantity)) return null;
      const sizes = derivation.dimensions.map((dimension) =>
        Number(row.measurements.find((one) => one.dimension === dimension)?.size?.value ?? Number.NaN),
      );
      const partials = derivation.dimensions.map((_, index) => derivation.partialNumber(index, sizes));
      return { quantity, partials, common: commonOf(row, derivation, partials, lookups, numbers) };
    },
  };
}
