import type { FlagSurroundings } from "#core/measurement/measurement-flags.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { type ApartValues, isApart } from "#core/statistics/apart-values.ts";
import type { FlagKey } from "#core/vocabulary/flag.ts";
import { type SheetSummary, sampleOf } from "../sheet-summary.ts";

/** One line about the sheet as a whole, heaviest first. */
export interface FindingLine {
  /** `wrong`: a result may be wrong; `note`: true of nearly every row and so said once. */
  readonly weight: "wrong" | "note";
  readonly words: string;
}

const HALF = decimal("0.5");

export const sampleKey = (dimension: string, group: string): string => `${dimension}/${group}`;

/**
 * What follows for single rows from the values of a sheet together. A new object stands for new findings: while nothing
 * else is found than before, rows need not be drawn again.
 */
export class SheetFindings {
  readonly #summary: SheetSummary;
  readonly #apart: ReadonlyMap<string, ApartValues>;
  readonly #shared: ReadonlyMap<string, ReadonlySet<FlagKey>>;

  constructor(
    summary: SheetSummary,
    found: {
      readonly apart: ReadonlyMap<string, ApartValues>;
      readonly shared: ReadonlyMap<string, ReadonlySet<FlagKey>>;
    },
  ) {
    this.#summary = summary;
    this.#apart = found.apart;
    this.#shared = found.shared;
  }

  isApart(label: string, dimension: string, size: Decimal): boolean {
    const apart = this.#apart.get(sampleKey(dimension, sampleOf(label)));
    return apart !== undefined && isApart(size.toNumber(), apart);
  }

  /** Whether a flag is said once for the sheet and not on each row. */
  isShared(dimension: string, flag: FlagKey): boolean {
    return this.#shared.get(dimension)?.has(flag) ?? false;
  }

  /** What the flags of one value of a label depend on. */
  around(label: string, dimension: string): NonNullable<FlagSurroundings["sheet"]> {
    const sample = this.#summary.sample(dimension, sampleOf(label));
    return {
      usual: sample && { median: sample.percentile(HALF, 7).value, n: sample.n },
      isApart: (size) => this.isApart(label, dimension, size),
    };
  }
}
