import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";

/** Sizes of one dimension, µm, that one factor or program made elsewhere: of the rows that are not struck. */
export interface SizesOfOrigin {
  readonly dimension: string;
  readonly convertedBy: string;
  readonly sizes: readonly number[];
}

/** What of a sheet was converted elsewhere. */
export interface ElsewhereSizes {
  /** Rows that count and carry such a size. */
  readonly rows: number;
  /** Dimensions of which some row has one, struck or not, in order of first appearance. */
  readonly dimensions: readonly string[];
  readonly origins: readonly SizesOfOrigin[];
}

/** A size as it stood in its file, as a number: a point or a comma may be its decimal sign. */
export function numberElsewhere(typed: string): number {
  return readDecimal("size", typed).value.toNumber();
}

/** Gathers what was converted elsewhere while the rows are walked. */
export class ElsewhereSurvey {
  #rows = 0;
  readonly #dimensions = new Set<string>();
  readonly #origins = new Map<string, { dimension: string; convertedBy: string; sizes: number[] }>();

  add({ elsewhere, struck }: Pick<SpecimenRow, "elsewhere" | "struck">): void {
    if (!elsewhere) return;
    if (struck === null) this.#rows += 1;
    for (const { dimension, typed } of elsewhere.sizes) {
      this.#dimensions.add(dimension);
      if (struck === null) this.#origin(dimension, elsewhere.convertedBy).push(numberElsewhere(typed));
    }
  }

  #origin(dimension: string, convertedBy: string): number[] {
    const key = JSON.stringify([dimension, convertedBy]);
    const known = this.#origins.get(key) ?? { dimension, convertedBy, sizes: [] };
    this.#origins.set(key, known);
    return known.sizes;
  }

  finish(): ElsewhereSizes {
    return { rows: this.#rows, dimensions: [...this.#dimensions], origins: [...this.#origins.values()] };
  }
}
