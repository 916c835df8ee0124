import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import type { SheetColumns } from "#core/contract/records/sheet-columns.ts";
import { type ReportedObject, reportedObject } from "#core/measurement/report-string.ts";
import { labelStem } from "#core/measurement/size-history.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { RunningSummary } from "#core/statistics/running-summary.ts";

interface Contribution {
  readonly label: string;
  readonly sizes: ReportedObject;
}

/** Sizes of one sheet by label and dimension, kept up row by row: no row is ever gone through twice. */
export class SheetSummary {
  /** By ordinal. */
  readonly #rows = new Map<number, Contribution>();
  readonly #groups = new Map<string, RunningSummary>();
  /** Ordinals of each label and kind. */
  readonly #labels = new Map<string, Set<number>>();

  /** How many rows have been counted. */
  get rows(): number {
    return this.#rows.size;
  }

  has(ordinal: number): boolean {
    return this.#rows.has(ordinal);
  }

  /** Counts a row as it is stored now, in place of what it held before. Struck rows count nothing. */
  store(row: SpecimenRow): void {
    this.#put(row.ordinal, { label: row.label, sizes: row.struck ? {} : reportedObject(row) });
  }

  /** Counts row `at` of some columns; nothing when it has been counted: what was stored since is newer. `struck`: ordinals. */
  storeColumn(columns: SheetColumns, at: number, struck: ReadonlySet<number>): void {
    const ordinal = columns.from + at;
    if (this.has(ordinal)) return;
    const label = columns.labels[columns.label[at] ?? -1] ?? "";
    const sizes: Record<string, ReturnType<typeof decimal>> = {};
    if (!struck.has(ordinal)) {
      for (const [dimension, column] of Object.entries(columns.sizes)) {
        const size = column[at];
        if (size != null) sizes[dimension] = decimal(size);
      }
    }
    this.#put(ordinal, { label, sizes });
  }

  /** Counts rows beyond the last one no more: an undo took them off the sheet. */
  shorten(total: number): void {
    for (const [ordinal, before] of this.#rows) {
      if (ordinal <= total) continue;
      this.#change(ordinal, before, "remove");
      this.#rows.delete(ordinal);
    }
  }

  clear(): void {
    this.#rows.clear();
    this.#groups.clear();
    this.#labels.clear();
  }

  /** The sample of one dimension, of one label or kind or (null) of all rows; null when nothing is measured. */
  sample(dimension: string, label: string | null): RunningSummary | null {
    const group = this.#groups.get(groupKey(dimension, label));
    return group && group.n > 0 ? group : null;
  }

  /**
   * What a label is summed up with: its own rows, or, where its number names a single specimen, all of its kind: `Alnus 9`
   * with `Alnus 10` and `Alnus`. To be given where a label is asked for.
   */
  groupOf(label: string): string {
    const kind = kindOf(label);
    return kind === null || labelStem(label) === label || this.count(label) > 1 ? label : kind;
  }

  /** How many rows have a label (null: all), struck ones included. */
  count(label: string | null): number {
    return label === null ? this.rows : (this.#labels.get(label)?.size ?? 0);
  }

  /** The sizes of every specimen of a label (null: of all), in no order. */
  objects(label: string | null): readonly ReportedObject[] {
    if (label === null) return [...this.#rows.values()].map((row) => row.sizes);
    return [...(this.#labels.get(label) ?? [])].map((ordinal) => this.#rows.get(ordinal)?.sizes ?? {});
  }

  #put(ordinal: number, after: Contribution): void {
    const before = this.#rows.get(ordinal);
    if (before) this.#change(ordinal, before, "remove");
    this.#change(ordinal, after, "add");
    this.#rows.set(ordinal, after);
  }

  #change(ordinal: number, { label, sizes }: Contribution, act: "add" | "remove"): void {
    const kind = kindOf(label);
    const groups = kind === null ? [label] : [label, kind];
    for (const group of groups) {
      const ordinals = this.#labels.get(group) ?? new Set();
      this.#labels.set(group, ordinals);
      if (act === "add") ordinals.add(ordinal);
      else ordinals.delete(ordinal);
    }
    for (const [dimension, size] of Object.entries(sizes)) {
      if (!size) continue;
      for (const of of [null, ...groups]) {
        const key = groupKey(dimension, of);
        const group = this.#groups.get(key) ?? new RunningSummary();
        this.#groups.set(key, group);
        group[act](size);
      }
    }
  }
}

function groupKey(dimension: string, label: string | null): string {
  return label === null ? dimension : `${dimension}/${label}`;
}

/** Labels are of one line, so that a kind is never taken for a label. */
const KIND = "\n";

/** The group of all labels that differ by their running numbers alone; null for a label without a name. */
export function kindOf(label: string): string | null {
  const stem = labelStem(label);
  return stem === "" ? null : KIND + stem;
}

/** A group as it is shown. */
export function groupTitle(group: string): string {
  return group.startsWith(KIND) ? group.slice(KIND.length) : group;
}
