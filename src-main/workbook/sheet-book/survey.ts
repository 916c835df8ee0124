import { CONVERTED_ELSEWHERE } from "#core/contract/records/exchange.ts";
import type { Measurement, SpecimenRow, StagePosition } from "#core/contract/records/sheet.ts";
import { type ReportedObject, reportedObject } from "#core/measurement/report-string.ts";
import {
  type ClassTally,
  countedQuantity,
  readSizeClasses,
  SizeClassCounter,
} from "#core/measurement/size-classes.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { FlagKey } from "#core/vocabulary/flag.ts";
import type { Progress } from "../../long-work/progress.ts";
import { createYielder } from "../../long-work/yield-to-events.ts";
import { type ApartRows, ApartSurvey } from "./apart-survey.ts";
import { openDigest } from "./data-digest.ts";
import { type ElsewhereSizes, ElsewhereSurvey } from "./elsewhere-survey.ts";
import type { CountedSizes } from "./label-statistics.ts";
import type { Lookups } from "./lookups.ts";
import type { MethodNumbers } from "./method-cells.ts";
import type { ReadingKinds } from "./row-layout.ts";
import type { RowResults } from "./row-results.ts";
import type { SheetBundle } from "./sheet-bundle-type.ts";

/** Beyond this many labels a label is no class any more; the rest are summed up in the group of all rows only. */
export const MOST_LABELS = 500;

/** One row worth explaining by hand: it counts, and has a size from a single reading. */
export interface ExampleRow {
  readonly row: SpecimenRow;
  readonly measurement: Measurement;
}

/** What one walk over all rows tells, before anything is written: the worksheets are streamed in order. */
export interface Survey {
  readonly rows: number;
  readonly struck: number;
  /** Rows with both edges of a dimension but no size. */
  readonly withoutSize: number;
  readonly flagged: number;
  /** Rows that count and whose note tells of a size converted elsewhere, as earlier programs kept it: in no statistic. */
  readonly convertedElsewhere: number;
  readonly elsewhere: ElsewhereSizes;
  /** Per dimension key: all rows that count, and by label in order of first appearance. */
  readonly all: ReadonlyMap<string, CountedSizes>;
  readonly labels: ReadonlyMap<string, ReadonlyMap<string, CountedSizes>>;
  readonly moreLabels: boolean;
  readonly firstEnteredAt: string | null;
  readonly lastEnteredAt: string | null;
  readonly enteredBy: readonly string[];
  readonly cautions: ReadonlyMap<FlagKey, number>;
  readonly apart: ApartRows;
  readonly example: ExampleRow | null;
  /** Row number of every row an amendment is about. */
  readonly ordinals: ReadonlyMap<string, number>;
  readonly dataSha256: string;
  /** What the columns of Rows must be able to hold. */
  readonly readings: ReadingKinds;
  /** How many rows that count fell into each class, by `classKey`. */
  readonly classCounts: ReadonlyMap<string, ReadonlyMap<string, number>>;
  /** Rows that count by the method's own limits, in their order; empty for methods without. */
  readonly sizeTallies: readonly ClassTally[];
  /** What the report string of each label is made from; empty for methods without one. */
  readonly reported: ReadonlyMap<string, readonly ReportedObject[]>;
}

/** @param label null: all rows that count */
export function classKey(of: string, tableId: string, label: string | null): string {
  return JSON.stringify([of, tableId, label]);
}

type Groups = Map<string, CountedSizes>;

function groupOf(groups: Groups, dimension: string): CountedSizes {
  let group = groups.get(dimension);
  if (group === undefined) {
    group = { sizes: [], factorParts: [] };
    groups.set(dimension, group);
  }
  return group;
}

/** The part of u of one size that comes from its factor, µm: |D|·(1 + κ)·u(f). */
export function factorPartOf(
  measurement: Measurement,
  lookups: Lookups,
  numbers: MethodNumbers,
): number | null {
  if (measurement.size === null || measurement.divisions === null || measurement.calibrationId === null)
    return null;
  const result = lookups.calibration(measurement.calibrationId)?.record.result;
  if (!result) return null;
  const factorU = Number(result.standardUncertainty);
  return Math.abs(Number(measurement.divisions) * (1 + numbers.correction) * factorU);
}

/** What the columns of Rows hold, with one row more. */
function withRow(
  holds: ReadingKinds["holds"],
  { label, note, struck, measurements }: SpecimenRow,
): ReadingKinds["holds"] {
  return {
    label: Math.max(holds.label, label.length),
    note: holds.note || note !== "" || struck !== null,
    struck: holds.struck || struck !== null,
    flags: holds.flags || measurements.some(({ flags }) => flags.length > 0),
    missing: holds.missing || measurements.some(({ missing }) => missing !== null),
  };
}

/** Counts rows by the method's own limits. */
function counterOf({ definition }: SheetBundle["method"]): SizeClassCounter {
  const { sizeClasses } = definition;
  return new SizeClassCounter(
    sizeClasses ? readSizeClasses(sizeClasses, countedQuantity(sizeClasses, definition).unit) : [],
  );
}

/** Columns of a position are there where some row has one. */
function notePlace(readings: { stage: boolean; square: boolean }, stage: StagePosition | null): void {
  if (stage === null) return;
  if (stage.x !== "" || stage.y !== "") readings.stage = true;
  if (stage.square !== undefined) readings.square = true;
}

/** Walks the rows once: counts, groups, digest. Holds numbers only, never the rows, and lets other calls through. */
export async function surveyRows(
  bundle: SheetBundle,
  lookups: Lookups,
  numbers: MethodNumbers,
  results: RowResults,
  progress: Progress,
): Promise<Survey> {
  const yieldToEvents = createYielder();
  const digest = openDigest(bundle);
  const amended = new Set(bundle.amendments.map((line) => line.subjectId));
  const all: Groups = new Map();
  const labels = new Map<string, Groups>();
  const cautions = new Map<FlagKey, number>();
  const apart = new ApartSurvey(bundle, lookups);
  const elsewhere = new ElsewhereSurvey();
  const ordinals = new Map<string, number>();
  const people = new Set<string>();
  const readings = { twoEdges: false, direct: false, repeats: 1, stage: false, square: false };
  let holds: ReadingKinds["holds"] = { label: 0, note: false, struck: false, flags: false, missing: false };
  const classCounts = new Map<string, Map<string, number>>();
  const reported = new Map<string, ReportedObject[]>();
  const bySize = counterOf(bundle.method);
  const sums = { rows: 0, struck: 0, withoutSize: 0, flagged: 0, convertedElsewhere: 0, moreLabels: false };
  let first: string | null = null;
  let last: string | null = null;
  let example: ExampleRow | null = null;

  function groupsOf(label: string): Groups | null {
    const known = labels.get(label);
    if (known !== undefined) return known;
    if (labels.size >= MOST_LABELS) {
      sums.moreLabels = true;
      return null;
    }
    const fresh: Groups = new Map();
    labels.set(label, fresh);
    return fresh;
  }

  function count(row: SpecimenRow, measurement: Measurement): void {
    const part = factorPartOf(measurement, lookups, numbers);
    if (row.struck !== null || measurement.size === null || part === null) return;
    put(row.label, measurement.dimension, Number(measurement.size.value), part);
    if (measurement.repeats.length === 0) example ??= { row, measurement };
  }

  function put(label: string, key: string, value: number, part: number): void {
    const ofLabel = groupsOf(label);
    for (const groups of ofLabel === null ? [all] : [all, ofLabel]) {
      const group = groupOf(groups, key);
      group.sizes.push(value);
      group.factorParts.push(part);
    }
  }

  function countDerived(row: SpecimenRow): void {
    if (row.struck !== null) return;
    bundle.method.definition.derived.forEach(({ key }, at) => {
      const result = results.result(row, at);
      if (result !== null) put(row.label, key, Number(result.quantity.value), result.common);
    });
    for (const { of, tableId, words } of results.of(row).classes) {
      for (const label of [null, row.label]) {
        const counts = classCounts.get(classKey(of, tableId, label)) ?? new Map<string, number>();
        counts.set(words, (counts.get(words) ?? 0) + 1);
        classCounts.set(classKey(of, tableId, label), counts);
      }
    }
    if (bundle.method.definition.report.kind !== "none") {
      const objects = reported.get(row.label) ?? [];
      objects.push(reportedObject(row));
      reported.set(row.label, objects);
    }
  }

  function countSize(row: SpecimenRow): void {
    const { sizeClasses, derived } = bundle.method.definition;
    if (row.struck !== null || !sizeClasses) return;
    const place = derived.findIndex(({ key }) => key === sizeClasses.of);
    const found =
      place < 0
        ? row.measurements.find(({ dimension }) => dimension === sizeClasses.of)?.size
        : results.result(row, place)?.quantity;
    if (found) bySize.add(decimal(found.value), decimal(found.expandedUncertainty));
  }

  function note(measurement: Measurement): void {
    people.add(measurement.enteredBy);
    if (first === null || measurement.enteredAt < first) first = measurement.enteredAt;
    if (last === null || measurement.enteredAt > last) last = measurement.enteredAt;
    if (measurement.entry === "direct") readings.direct = true;
    else readings.twoEdges = true;
    readings.repeats = Math.max(readings.repeats, measurement.repeats.at(-1)?.number ?? 1);
    for (const flag of measurement.flags) cautions.set(flag, (cautions.get(flag) ?? 0) + 1);
  }

  for (const row of bundle.rows()) {
    digest.add(row);
    sums.rows += 1;
    progress.signal.throwIfAborted();
    await yieldToEvents();
    if (row.struck !== null) sums.struck += 1;
    else if (row.note.includes(CONVERTED_ELSEWHERE)) sums.convertedElsewhere += 1;
    if (row.measurements.some((one) => one.divisions !== null && one.size === null)) sums.withoutSize += 1;
    if (row.measurements.some((one) => one.flags.length > 0)) sums.flagged += 1;
    if (amended.has(row.id)) ordinals.set(row.id, row.ordinal);
    if (row.struck === null) groupsOf(row.label);
    for (const measurement of row.measurements) {
      note(measurement);
      count(row, measurement);
      apart.add(row, measurement);
    }
    elsewhere.add(row);
    notePlace(readings, row.stage);
    holds = withRow(holds, row);
    countDerived(row);
    countSize(row);
  }
  for (const line of bundle.amendments) digest.add(line);

  return {
    ...sums,
    all,
    labels,
    firstEnteredAt: first,
    lastEnteredAt: last,
    enteredBy: [...people],
    cautions,
    apart: apart.finish(() => bundle.rows()),
    elsewhere: elsewhere.finish(),
    example,
    ordinals,
    dataSha256: digest.hex(),
    readings: { ...readings, holds },
    classCounts,
    sizeTallies: bySize.tallies(),
    reported,
  };
}
