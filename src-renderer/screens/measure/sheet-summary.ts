import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { RunningSummary } from "#core/statistics/running-summary.ts";
import type { BasicSummary } from "#core/statistics/summary.ts";

interface Contribution {
  readonly label: string;
  /** Dimension and size text, µm. */
  readonly sizes: readonly (readonly [string, string])[];
}

/** Sizes of one sheet by label and dimension, kept up row by row: no row is ever gone through twice. */
export class SheetSummary {
  readonly #rows = new Map<string, Contribution>();
  readonly #groups = new Map<string, RunningSummary>();

  /** How many rows have been counted. */
  get rows(): number {
    return this.#rows.size;
  }

  has(rowId: string): boolean {
    return this.#rows.has(rowId);
  }

  /** Counts a row as it is stored now, in place of what it held before. Struck rows count nothing. */
  store(row: SpecimenRow): void {
    const before = this.#rows.get(row.id);
    const after: Contribution = {
      label: row.label,
      sizes: row.struck
        ? []
        : row.measurements.flatMap((one) => (one.size ? [[one.dimension, one.size.value] as const] : [])),
    };
    if (before) this.#change(before, "remove");
    this.#change(after, "add");
    this.#rows.set(row.id, after);
  }

  clear(): void {
    this.#rows.clear();
    this.#groups.clear();
  }

  /** Counts a row no more: an undo took it off the sheet. */
  forget(rowId: string): void {
    const before = this.#rows.get(rowId);
    if (before) this.#change(before, "remove");
    this.#rows.delete(rowId);
  }

  /** Summary of one dimension, of one label or (null) of all rows; null when nothing is measured. */
  of(dimension: string, label: string | null): BasicSummary | null {
    const group = this.#groups.get(groupKey(dimension, label));
    return group && group.n > 0 ? group.summary() : null;
  }

  #change({ label, sizes }: Contribution, act: "add" | "remove"): void {
    for (const [dimension, size] of sizes) {
      for (const part of [null, label]) {
        const key = groupKey(dimension, part);
        const group = this.#groups.get(key) ?? new RunningSummary();
        this.#groups.set(key, group);
        group[act](decimal(size));
      }
    }
  }
}

function groupKey(dimension: string, label: string | null): string {
  return label === null ? dimension : `${dimension}/${label}`;
}
