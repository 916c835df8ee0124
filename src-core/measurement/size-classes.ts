import type { MethodDefinition, SizeClasses } from "../contract/records/method.ts";
import { Decimal, decimal } from "../quantity/decimal.ts";
import { readDecimal } from "../quantity/decimal-text.ts";
import { InputError, requireNotNegative } from "../quantity/input-error.ts";
import { unitOfDerived } from "./derived-kind.ts";

/** One class of a method's own limits, in the unit of what is counted by it. */
export interface SizeClass {
  readonly from: Decimal;
  /** Where the next one begins; null: everything from `from` on. */
  readonly below: Decimal | null;
  /** The highest number allowed; null: no limit is set. */
  readonly most: Decimal | null;
  /** `≥ 10 µm`, `10 to below 25 µm`. */
  readonly words: string;
}

/**
 * Sizes are held against limits to so many places after the point (µm: femtometres), so that the binary numbers of a
 * workbook fall into the same class as the decimals here.
 */
export const SIZE_PLACES = 9;

/** Name and unit of what a method counts by size. */
export function countedQuantity(
  { of }: Pick<SizeClasses, "of">,
  { dimensions, derived }: Pick<MethodDefinition, "dimensions" | "derived">,
): { readonly name: string; readonly unit: string } {
  const quantity = derived.find(({ key }) => key === of);
  const unit = quantity ? unitOfDerived(quantity) : "µm";
  return {
    name: quantity?.name ?? dimensions.find(({ key }) => key === of)?.name ?? of,
    unit: unit === "1" ? "" : unit,
  };
}

/**
 * The classes of a method, from the smallest limit on.
 * @throws InputError `<field>.limits.N.from` or `.most` for what cannot be read, is negative or does not rise
 */
export function readSizeClasses(
  { limits, counted }: Pick<SizeClasses, "limits" | "counted">,
  unit = "µm",
  field = "sizeClasses",
): readonly SizeClass[] {
  const read = limits.map(({ from, most }, at) => {
    const place = `${field}.limits.${at}`;
    const number = (key: string, typed: string): Decimal =>
      requireNotNegative(`${place}.${key}`, readDecimal(`${place}.${key}`, typed).value);
    return { from: number("from", from), most: most.trim() === "" ? null : number("most", most) };
  });
  return read.map(({ from, most }, at) => {
    const before = read[at - 1];
    if (before && !from.greaterThan(before.from)) {
      throw new InputError(`${field}.limits.${at}.from`, "must be greater than the limit before it");
    }
    const below = counted === "between" ? (read[at + 1]?.from ?? null) : null;
    const shown = `${from.toFixed()}${below === null ? "" : ` to below ${below.toFixed()}`} ${unit}`.trim();
    return { from, below, most, words: below === null ? `≥ ${shown}` : shown };
  });
}

const PER_WORDS = { sheet: "on the sheet", container: "per container", mL: "per mL" } as const;

/** `Length: ≥ 10 µm, at most 3000; ≥ 25 µm, at most 300; numbers per container`. */
export function sizeClassWords(
  sizeClasses: SizeClasses,
  definition: Pick<MethodDefinition, "dimensions" | "derived">,
): string {
  const { name, unit } = countedQuantity(sizeClasses, definition);
  const classes = readSizeClasses(sizeClasses, unit).map(({ words, most }) =>
    most === null ? words : `${words}, at most ${most.toFixed()}`,
  );
  return `${name}: ${[...classes, `numbers ${PER_WORDS[sizeClasses.per]}`].join("; ")}`;
}

/** How many specimens fell into a class, and how many lie so near its limits that U could move them in or out. */
export interface ClassTally {
  readonly counted: number;
  readonly near: number;
}

/** Counts sizes one after the other into the classes of a method. */
export class SizeClassCounter {
  readonly #classes: readonly SizeClass[];
  readonly #tallies: { counted: number; near: number }[];

  constructor(classes: readonly SizeClass[]) {
    this.#classes = classes;
    this.#tallies = classes.map(() => ({ counted: 0, near: 0 }));
  }

  /** @param expanded U of the size, in its unit */
  add(size: Decimal, expanded: Decimal): void {
    const value = size.toDecimalPlaces(SIZE_PLACES, Decimal.ROUND_HALF_UP);
    this.#classes.forEach(({ from, below }, at) => {
      const tally = this.#tallies[at];
      if (!tally) return;
      if (value.greaterThanOrEqualTo(from) && (below === null || value.lessThan(below))) tally.counted += 1;
      const isNear = [from, below].some(
        (limit) => limit !== null && size.minus(limit).abs().lessThan(expanded),
      );
      if (isNear) tally.near += 1;
    });
  }

  /** In the order of the classes. */
  tallies(): readonly ClassTally[] {
    return this.#tallies.map((one) => ({ ...one }));
  }
}

/** The tallies of sizes as they are stored, with their U. */
export function tallySizes(
  classes: readonly SizeClass[],
  sizes: Iterable<{ readonly value: string; readonly expandedUncertainty: string }>,
): readonly ClassTally[] {
  const counter = new SizeClassCounter(classes);
  for (const { value, expandedUncertainty } of sizes) {
    counter.add(decimal(value), decimal(expandedUncertainty));
  }
  return counter.tallies();
}
