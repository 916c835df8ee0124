import { type CellVolume, factorKey } from "../../contract/records/cell-volume.ts";
import type { Count } from "../../contract/records/count.ts";
import type { CountMethodDefinition } from "../../contract/records/count-method.ts";
import type { CountResults, DensityRecord } from "../../contract/records/count-results.ts";
import { type CarbonRelation, carbonRelation } from "../../methods/carbon.ts";
import { type Decimal, decimal, ZERO } from "../../quantity/decimal.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { reportWithUncertainty, roundToSignificant } from "../../quantity/rounding.ts";
import { relativeUncertaintyOf, type UncertainProduct } from "../../quantity/uncertain-product.ts";
import {
  type AmountProduct,
  amountBelow,
  type CellAmount,
  cellAmount,
  sumOfAmounts,
} from "../densities/cell-amount.ts";
import { biovolumePerLitre, carbonOfCell, carbonPerLitre } from "../densities/water-biovolume.ts";

/** A counted category with its cell volume. */
export interface BiovolumeLine {
  readonly category: string;
  readonly name: string;
  /** Part of the sums: an object of the total, not something counted beside it. */
  readonly isSummed: boolean;
  readonly group: string | null;
  readonly given: CellVolume;
  readonly density: DensityRecord;
  /** µm³, with its doubts. */
  readonly cell: UncertainProduct;
  /** One cell in words. */
  readonly cellShown: string;
  readonly volume: CellAmount;
  readonly relation: CarbonRelation | null;
  readonly carbon: CellAmount | null;
}

export interface BiovolumeSum {
  /** Name of the group; null: everything that has a volume. */
  readonly group: string | null;
  readonly volume: CellAmount;
  /** Of those with a carbon relation; null when none has. */
  readonly carbon: CellAmount | null;
}

export interface CountBiovolumes {
  readonly lines: readonly BiovolumeLine[];
  /** Each group of two or more lines, and last the whole; none of nothing. */
  readonly sums: readonly BiovolumeSum[];
  readonly remarks: readonly string[];
}

/** True when a count comes to cells per mL of water, so that cell volumes give mm³/L. */
export function takesCellVolumes({ density }: Pick<CountMethodDefinition, "density">): boolean {
  return density.kind === "chamber";
}

/** The doubts of a volume by keys that say whose they are: the same cells or the same factor are the same doubt. */
function cellProduct({ category, of }: CellVolume): UncertainProduct {
  if (of.from === "typed") {
    const value = readDecimal("volume", of.volume).value;
    const expanded = of.expanded.trim() === "" ? ZERO : readDecimal("expanded", of.expanded).value;
    const relative = expanded.div(2).div(value);
    return {
      value,
      unit: "µm³",
      components: [{ key: `typed ${category}`, name: "typed U, k = 2", relative }],
    };
  }
  return {
    value: decimal(of.volume),
    unit: "µm³",
    components: of.components.map(({ key, name, relative }) => ({
      key: key === "cells" ? scatterKey(of) : key,
      name,
      relative: decimal(relative),
    })),
  };
}

type OfSheet = Extract<CellVolume["of"], { from: "sheet" }>;

function scatterKey({ sheetId, label, quantity }: OfSheet): string {
  return `cells ${sheetId} ${quantity} ${label ?? ""}`;
}

/** The density of a category as a product; its factor is named by its calibration, as that of a volume is. */
function densityProduct(
  record: DensityRecord,
  category: string,
  calibrationId: string | null,
): UncertainProduct {
  const keyOf = (key: string): string => {
    if (key === "count") return `count ${category}`;
    return key === "factor" ? factorKey(calibrationId ?? "") : key;
  };
  return {
    value: decimal(record.value),
    unit: record.unit,
    components: record.components.map(({ key, name, relative }) => ({
      key: keyOf(key),
      name,
      relative: decimal(relative),
    })),
  };
}

function degreesOf(record: DensityRecord, { category, of }: CellVolume): ReadonlyMap<string, number> {
  const degrees = new Map<string, number>();
  if (record.degreesOfFreedom !== undefined) degrees.set(`count ${category}`, record.degreesOfFreedom);
  if (of.from === "sheet" && of.cells > 1) degrees.set(scatterKey(of), of.cells - 1);
  return degrees;
}

function cellWords({ value, components, unit }: UncertainProduct): string {
  const expanded = value.times(2).times(relativeUncertaintyOf({ value, components, unit }));
  if (!expanded.greaterThan(0)) return `${roundToSignificant(value, 3, "half-even").toFixed()} µm³`;
  const shown = reportWithUncertainty(value, expanded, "half-even");
  return `${shown.value} ± ${shown.uncertainty} µm³`;
}

interface Found {
  readonly line: BiovolumeLine;
  readonly volume: AmountProduct | null;
  readonly carbon: AmountProduct | null;
}

/** An amount of one taxon; `perCell` is what one cell/mL comes to. */
function amountOf(
  record: DensityRecord,
  amount: AmountProduct,
  perCell: Decimal,
): { readonly amount: CellAmount; readonly summed: AmountProduct | null } {
  if (record.relative === null) {
    const limit = decimal(record.lessThan ?? record.upper).times(perCell);
    return { amount: amountBelow(limit, amount.product.unit), summed: null };
  }
  const limits = { lower: decimal(record.lower).times(perCell), upper: decimal(record.upper).times(perCell) };
  const whole = cellAmount(amount, limits);
  if (record.lessThan === null) return { amount: whole, summed: amount };
  const below = amountBelow(decimal(record.lessThan).times(perCell), amount.product.unit);
  return { amount: { ...whole, shown: below.shown }, summed: amount };
}

function found(
  given: CellVolume,
  record: DensityRecord,
  { key, name, kind, group }: Count["categories"][number],
  calibrationId: string | null,
): Found {
  const cell = cellProduct(given);
  const density = densityProduct(record, key, calibrationId);
  const degreesOfFreedom = degreesOf(record, given);
  const perCell = cell.value.times("0.000001");
  const volume = amountOf(record, { product: biovolumePerLitre(density, cell), degreesOfFreedom }, perCell);
  const relation = carbonRelation(given.carbon);
  const carbonCell = relation && carbonOfCell(cell, relation);
  const carbon =
    carbonCell &&
    amountOf(
      record,
      { product: carbonPerLitre(density, carbonCell), degreesOfFreedom },
      carbonCell.value.times("0.001"),
    );
  return {
    line: {
      category: key,
      name,
      isSummed: kind === "object",
      group: group ?? null,
      given,
      density: record,
      cell,
      cellShown: cellWords(cell),
      volume: volume.amount,
      relation,
      carbon: carbon?.amount ?? null,
    },
    volume: volume.summed,
    carbon: carbon?.summed ?? null,
  };
}

function sumOf(group: string | null, members: readonly Found[]): BiovolumeSum[] {
  const volume = sumOfAmounts(
    members.flatMap((one) => one.volume ?? []),
    "mm³/L",
  );
  if (!volume) return [];
  const carbon = sumOfAmounts(
    members.flatMap((one) => one.carbon ?? []),
    "µg C/L",
  );
  return [{ group, volume: cellAmount(volume), carbon: carbon && cellAmount(carbon) }];
}

function sumsOf(all: readonly Found[]): BiovolumeSum[] {
  const summed = all.filter(({ line }) => line.isSummed);
  if (summed.length < 2) return [];
  const groups = [...new Set(summed.flatMap(({ line }) => line.group ?? []))];
  const ofGroups = groups.flatMap((group) => {
    const members = summed.filter(({ line }) => line.group === group);
    return members.length < 2 ? [] : sumOf(group, members);
  });
  return [...ofGroups, ...sumOf(null, summed)];
}

function remarksOf(all: readonly Found[], { categories }: CountResults): string[] {
  const remarks: string[] = [];
  const named = (names: readonly string[]) => names.join(", ");
  const without = categories
    .filter(({ kind, count }) => kind === "object" && Number(count) > 0)
    .filter(({ category }) => !all.some(({ line }) => line.category === category));
  if (without.length > 0) {
    remarks.push(`No cell volume, so in no sum here: ${named(without.map(({ name }) => name))}.`);
  }
  const exact = all.filter(
    ({ line: { given } }) => given.of.from === "typed" && given.of.expanded.trim() === "",
  );
  if (exact.length > 0) {
    remarks.push(`Typed without U, so taken as exact: ${named(exact.map(({ line }) => line.name))}.`);
  }
  const single = all.filter(({ line: { given } }) => given.of.from === "sheet" && given.of.cells === 1);
  if (single.length > 0) {
    remarks.push(
      `From one cell, so how cells differ is not in U: ${named(single.map(({ line }) => line.name))}.`,
    );
  }
  const bare = all.filter(({ line }) => line.isSummed && line.relation === null);
  if (bare.length > 0 && bare.length < all.length) {
    remarks.push(`No carbon relation, so in no sum of carbon: ${named(bare.map(({ line }) => line.name))}.`);
  }
  const relation = all.find(({ line }) => line.relation !== null)?.line.relation;
  if (relation) {
    remarks.push(`Carbon of the mean cell by ${relation.source}; the doubt of that relation is not in U.`);
  }
  return remarks;
}

/**
 * Biovolume and carbon of a count from its densities per mL and the volumes of its cells, each with U; sums over groups
 * and over everything. The counts of two taxa are taken as independent; factor, settled volume, dilution and cells that
 * two of them share are one doubt.
 */
export function countBiovolumes(
  {
    categories,
    calibrationId,
    cellVolumes = [],
  }: Pick<Count, "categories" | "calibrationId" | "cellVolumes">,
  results: CountResults,
): CountBiovolumes {
  const objects = categories.filter(({ kind }) => kind === "object");
  const [whole, ...byCategory] = results.densities;
  const all = categories.flatMap((category): Found[] => {
    const given = cellVolumes.find((one) => one.category === category.key);
    const isWhole = objects.length === 1 && category.kind === "object";
    const record = isWhole ? whole : byCategory.find((one) => one.of === category.key);
    return given && record ? [found(given, record, category, calibrationId)] : [];
  });
  return { lines: all.map(({ line }) => line), sums: sumsOf(all), remarks: remarksOf(all, results) };
}
