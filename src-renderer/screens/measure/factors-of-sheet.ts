import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import type { SheetColumns } from "#core/contract/records/sheet-columns.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";

/** What the sizes of a sample share of their factors: the mean part of u, µm, and its ν (null: infinite). */
export interface SharedPart {
  readonly mean: Decimal;
  readonly degreesOfFreedom: Decimal | null;
}

/** What is known of the factors that the sizes of a sheet were converted with. */
export class FactorsOfSheet {
  /** u(f)/f by calibration. */
  readonly #relative = new Map<string, number>();
  #least: Decimal | null = null;

  /** The smallest ν of all factors: a mean may rest on several. Null: infinite. */
  get leastDegreesOfFreedom(): Decimal | null {
    return this.#least;
  }

  learn({ factors }: Pick<SheetColumns, "factors">): void {
    for (const { calibrationId, relativeUncertainty, degreesOfFreedom } of factors) {
      this.#relative.set(calibrationId, Number(relativeUncertainty));
      if (degreesOfFreedom === null) continue;
      if (this.#least === null || this.#least.greaterThan(degreesOfFreedom)) {
        this.#least = decimal(degreesOfFreedom);
      }
    }
  }

  knowsAllOf({ measurements }: SpecimenRow): boolean {
    return measurements.every(({ size, calibrationId }) => !size || this.#relative.has(calibrationId ?? ""));
  }

  /** The part of u of each size that comes from its factor, µm; left out where that is not known. */
  partsOf({ measurements }: SpecimenRow): Readonly<Record<string, number>> {
    return Object.fromEntries(
      measurements.flatMap(({ dimension, size, calibrationId }) => {
        const relative = this.#relative.get(calibrationId ?? "");
        return size && relative !== undefined ? [[dimension, Number(size.value) * relative]] : [];
      }),
    );
  }
}
