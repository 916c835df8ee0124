import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import type { SheetColumns } from "#core/contract/records/sheet-columns.ts";
import { type ReportedObject, reportedObject } from "#core/measurement/report-string.ts";
import { labelStem } from "#core/measurement/size-history.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { RunningSummary } from "#core/statistics/running-summary.ts";
import type { FlagKey } from "#core/vocabulary/flag.ts";
import { FactorsOfSheet, type SharedPart } from "./factors-of-sheet.ts";

interface Contribution {
  readonly label: string;
  readonly sizes: ReportedObject;
  /** Of each measured dimension. */
  readonly flags: Readonly<Record<string, readonly FlagKey[]>>;
  readonly isStruck: boolean;
  /** The part of u of each size that comes from its factor, µm; left out where the factor is not known yet. */
  readonly factorParts: Readonly<Record<string, number>>;
}

/** A row as the search sees it. */
export interface SeenRow {
  readonly ordinal: number;
  readonly label: string;
  readonly flags: readonly FlagKey[];
  /** A dimension of the method is not measured on it yet. */
  readonly isUnfinished: boolean;
}

const NOTHING: Pick<Contribution, "sizes" | "flags" | "factorParts"> = {
  sizes: {},
  flags: {},
  factorParts: {},
};

/** How many measurements of a dimension there are, and how many have each flag. */
export interface FlagCounts {
  readonly measured: number;
  readonly counts: ReadonlyMap<FlagKey, number>;
}

/** One label, or all rows without a name, in one dimension. */
export interface LabelSample {
  readonly dimension: string;
  readonly group: string;
}

/** Sizes of one sheet by label and dimension, kept up row by row: no row is ever gone through twice. */
export class SheetSummary {
  /** By ordinal. */
  readonly #rows = new Map<number, Contribution>();
  readonly #groups = new Map<string, RunningSummary>();
  /** Of each group: how many sizes have a known factor part, and the sum of these, µm. */
  readonly #factorParts = new Map<string, { n: number; sum: number }>();
  readonly #factors = new FactorsOfSheet();
  /** Ordinals of each label and kind. */
  readonly #labels = new Map<string, Set<number>>();
  readonly #flags = new Map<string, { measured: number; readonly counts: Map<FlagKey, number> }>();
  /** Samples that have changed since they were asked for last, by key. */
  #changed = new Map<string, LabelSample>();
  readonly #samples = new Map<string, LabelSample>();

  /** How many rows have been counted. */
  get rows(): number {
    return this.#rows.size;
  }

  /** The rows counted that are not struck, by ordinal: label, and whether a flag is on them or a dimension is missing. */
  *seen(dimensions: readonly string[]): Generator<SeenRow> {
    for (const ordinal of [...this.#rows.keys()].sort((a, b) => a - b)) {
      const row = this.#rows.get(ordinal);
      if (!row || row.isStruck) continue;
      const flags = Object.values(row.flags).flat();
      const isUnfinished = dimensions.some((dimension) => row.flags[dimension] === undefined);
      yield { ordinal, label: row.label, flags, isUnfinished };
    }
  }

  has(ordinal: number): boolean {
    return this.#rows.has(ordinal);
  }

  /** Counts a row as it is stored now, in place of what it held before. Struck rows count nothing. */
  store(row: SpecimenRow): void {
    this.#put(row.ordinal, {
      label: row.label,
      isStruck: row.struck !== null,
      ...(row.struck
        ? NOTHING
        : {
            sizes: reportedObject(row),
            flags: flagsOfRow(row),
            factorParts: this.#factors.partsOf(row),
          }),
    });
  }

  /** Takes in what is known of factors; rows stored before are not counted again. */
  learn(columns: SheetColumns): void {
    this.#factors.learn(columns);
  }

  /** Whether the factor of each size of a row is known. */
  knowsFactorsOf(row: SpecimenRow): boolean {
    return this.#factors.knowsAllOf(row);
  }

  /** What the sizes of a group share: the mean of their factor parts, µm, and the smallest ν of the sheet's factors. */
  sharedPart(dimension: string, label: string | null): SharedPart | null {
    const key = groupKey(dimension, label);
    const parts = this.#factorParts.get(key);
    const n = this.#groups.get(key)?.n ?? 0;
    if (!parts || n === 0 || parts.n !== n) return null;
    return { mean: decimal(parts.sum).div(n), degreesOfFreedom: this.#factors.leastDegreesOfFreedom };
  }

  /** Counts row `at` of some columns; nothing when it has been counted: what was stored since is newer. `struck`: ordinals. */
  storeColumn(columns: SheetColumns, at: number, struck: ReadonlySet<number>): void {
    const ordinal = columns.from + at;
    if (this.has(ordinal)) return;
    const label = columns.labels[columns.label[at] ?? -1] ?? "";
    const isStruck = struck.has(ordinal);
    this.#put(ordinal, { label, isStruck, ...(isStruck ? NOTHING : valuesOf(columns, at)) });
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
    this.#factorParts.clear();
    this.#labels.clear();
    this.#flags.clear();
    this.#changed.clear();
    // A sample that is gone must be looked at once more.
    for (const [key, sample] of this.#samples) this.#changed.set(key, sample);
    this.#samples.clear();
  }

  /** Every sample that rows are compared within. */
  samples(): readonly LabelSample[] {
    return [...this.#samples.values()];
  }

  /** Samples that have changed since the last call. */
  takeChanged(): readonly LabelSample[] {
    const changed = [...this.#changed.values()];
    this.#changed = new Map();
    return changed;
  }

  flagCounts(dimension: string): FlagCounts {
    return this.#flags.get(dimension) ?? { measured: 0, counts: new Map() };
  }

  /** Rows of a group whose size passes a test, at most `most`; ordinals in rising order. */
  ordinalsWith(
    { dimension, group }: LabelSample,
    passes: (size: Decimal) => boolean,
    most: number,
  ): readonly number[] {
    const found: number[] = [];
    for (const ordinal of this.#labels.get(group) ?? []) {
      const size = this.#rows.get(ordinal)?.sizes[dimension];
      if (size && passes(size)) found.push(ordinal);
    }
    return found.sort((a, b) => a - b).slice(0, most);
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

  #change(ordinal: number, { label, sizes, flags, factorParts }: Contribution, act: "add" | "remove"): void {
    const kind = kindOf(label);
    const sampled = sampleOf(label);
    const groups = kind === null && label === "" ? [label] : [label, sampled];
    this.#countFlags(flags, act === "add" ? 1 : -1);
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
        this.#countPart(key, factorParts[dimension], act === "add" ? 1 : -1);
      }
      const key = groupKey(dimension, sampled);
      const sample = this.#samples.get(key) ?? { dimension, group: sampled };
      this.#samples.set(key, sample);
      this.#changed.set(key, sample);
    }
  }

  #countPart(key: string, part: number | undefined, by: 1 | -1): void {
    if (part === undefined) return;
    const { n, sum } = this.#factorParts.get(key) ?? { n: 0, sum: 0 };
    this.#factorParts.set(key, { n: n + by, sum: sum + by * part });
  }

  #countFlags(flags: Contribution["flags"], by: 1 | -1): void {
    for (const [dimension, of] of Object.entries(flags)) {
      const counted = this.#flags.get(dimension) ?? { measured: 0, counts: new Map<FlagKey, number>() };
      this.#flags.set(dimension, counted);
      counted.measured += by;
      for (const flag of of) counted.counts.set(flag, (counted.counts.get(flag) ?? 0) + by);
    }
  }
}

/** What row `at` of some columns holds. */
function valuesOf(columns: SheetColumns, at: number): typeof NOTHING {
  const sizes: Record<string, Decimal> = {};
  const factorParts: Record<string, number> = {};
  const flags: Record<string, readonly FlagKey[]> = {};
  for (const [dimension, column] of Object.entries(columns.flags)) {
    const set = columns.flagSets[column[at] ?? -1];
    if (set) flags[dimension] = set;
  }
  for (const [dimension, column] of Object.entries(columns.sizes)) {
    const size = column[at];
    if (size == null) continue;
    sizes[dimension] = decimal(size);
    const factor = columns.factors[columns.factor[dimension]?.[at] ?? -1];
    if (factor) factorParts[dimension] = Number(size) * Number(factor.relativeUncertainty);
  }
  return { sizes, flags, factorParts };
}

/** Flags of the dimensions that are measured to the end. */
function flagsOfRow(row: SpecimenRow): Contribution["flags"] {
  return Object.fromEntries(
    row.measurements.flatMap(({ dimension, divisions, flags }) =>
      divisions === null ? [] : [[dimension, flags]],
    ),
  );
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

/** The group whose values a row is compared with: its kind, or all rows without a name. */
export function sampleOf(label: string): string {
  return kindOf(label) ?? "";
}

/** A group as it is shown. */
export function groupTitle(group: string): string {
  return group.startsWith(KIND) ? group.slice(KIND.length) : group;
}
