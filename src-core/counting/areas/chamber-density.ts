import { type Decimal, decimal, PI } from "../../quantity/decimal.ts";
import { InputError, requirePositive } from "../../quantity/input-error.ts";
import {
  exactly,
  productOf,
  quotientOf,
  scaledBy,
  type UncertainProduct,
  withUncertainty,
} from "../../quantity/uncertain-product.ts";
import type { CountingChamber } from "./chambers.ts";
import { repeated, stripArea } from "./counting-area.ts";

/** The part of a chamber that was counted. */
export type CountedPortion =
  | { readonly kind: "fields"; readonly area: UncertainProduct; readonly fields: number }
  | { readonly kind: "strips"; readonly width: UncertainProduct; readonly strips: number }
  | { readonly kind: "squares"; readonly square: string; readonly squares: number }
  | { readonly kind: "share"; readonly share: Decimal };

/** What else a density needs; leave out what does not apply. */
export interface ChamberSample {
  /** Depth with its doubt, mm; the nominal depth, taken as exact, when left out. */
  readonly depth?: UncertainProduct;
  /** Volume settled in a settling chamber, mL. */
  readonly settledVolume?: UncertainProduct;
  /** Original volume over counted volume: 10 for 1 in 10, 0.05 for 500 mL concentrated to 25 mL. Exact 1 when left out. */
  readonly dilution?: UncertainProduct;
}

/** Area of a chamber's floor, mm², from its nominal outline. */
export function chamberArea(chamber: CountingChamber): UncertainProduct {
  const { outline } = chamber;
  if (outline.kind === "rectangle") {
    return exactly("chamber", decimal(outline.length).times(decimal(outline.width)), "mm²");
  }
  return exactly("chamber", PI.div(4).times(decimal(outline.diameter).pow(2)), "mm²");
}

function stripLength(chamber: CountingChamber): UncertainProduct {
  const { outline } = chamber;
  return exactly("chamber", outline.kind === "rectangle" ? outline.length : outline.diameter, "mm");
}

function portionArea(chamber: CountingChamber, portion: CountedPortion): UncertainProduct {
  switch (portion.kind) {
    case "fields":
      return repeated(portion.area, "fields", portion.fields);
    case "strips":
      return stripArea(portion.width, stripLength(chamber), portion.strips);
    case "squares": {
      const square = chamber.squares.find((entry) => entry.id === portion.square);
      if (!square) throw new InputError("square", `is not a square of the ${chamber.name} chamber`);
      return repeated(exactly("square", square.area, "mm²"), "squares", portion.squares);
    }
    case "share":
      requirePositive("share", portion.share);
      if (portion.share.greaterThan(1))
        throw new InputError("share", "must not be more than 1, the whole chamber");
      return scaledBy(chamberArea(chamber), portion.share, "mm²");
  }
}

/**
 * Volume of the counted suspension that was looked at, mL: area times depth, or the settled volume times the counted
 * share of the floor.
 * @throws InputError when the portion does not fit the chamber, or the settled volume or depth is missing
 */
export function examinedVolume(
  chamber: CountingChamber,
  portion: CountedPortion,
  sample: ChamberSample = {},
): UncertainProduct {
  const floor = chamberArea(chamber);
  const area = portionArea(chamber, portion);
  if (area.value.greaterThan(floor.value)) {
    throw new InputError(portion.kind, `cover more than the floor of the ${chamber.name} chamber`);
  }
  if (chamber.depth === null) {
    if (!sample.settledVolume)
      throw new InputError("settledVolume", "is missing: type the volume settled, mL");
    return productOf(quotientOf(area, floor, ""), sample.settledVolume, "mL");
  }
  const depth = sample.depth ?? exactly("depth", chamber.depth, "mm");
  return scaledBy(productOf(area, depth, "mm³"), "0.001", "mL");
}

/** Density that one counted object stands for, per mL of the original sample: dilution / examined volume. */
export function chamberDensityPerObject(
  chamber: CountingChamber,
  portion: CountedPortion,
  sample: ChamberSample = {},
): UncertainProduct {
  const dilution = sample.dilution ?? exactly("dilution", "1", "");
  return quotientOf(dilution, examinedVolume(chamber, portion, sample), "/mL");
}

/** A chamber's depth known to ± half-width (rectangular), mm. */
export function depthWithin(depth: Decimal, halfWidth: Decimal): UncertainProduct {
  const standardUncertainty = halfWidth.div(decimal(3).sqrt());
  return withUncertainty(
    "depth",
    { value: depth, unit: "mm", standardUncertainty },
    { key: "depth", name: "depth of the chamber" },
  );
}

/** Concentration before counting as a dilution: counted volume over original volume, 25 mL from 500 mL is 0.05. */
export function concentrationFactor(originalVolume: Decimal, concentratedVolume: Decimal): UncertainProduct {
  requirePositive("originalVolume", originalVolume);
  requirePositive("concentratedVolume", concentratedVolume);
  return exactly("dilution", concentratedVolume.div(originalVolume), "");
}
