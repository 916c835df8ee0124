import type { Method } from "#core/contract/records/method.ts";
import { readingsAsked } from "#core/measurement/readings.ts";
import { PART_HEADINGS, ROW_HEADINGS, readingHeading } from "../words/headings.ts";

export interface RowColumn {
  readonly header: string;
  readonly width: number;
}

const FIXED_COLUMNS = 4;

/** Columns in front of the dimensions; those in which nothing stands are as wide as their headings. */
function fixedColumns({ label, note, struck }: ReadingKinds["holds"]): readonly RowColumn[] {
  return [
    { header: ROW_HEADINGS.row, width: 7 },
    { header: ROW_HEADINGS.label, width: Math.min(26, Math.max(8, label + 2)) },
    { header: ROW_HEADINGS.struck, width: struck ? 10 : 8 },
    { header: ROW_HEADINGS.note, width: note ? 34 : 10 },
  ];
}

type Part = keyof typeof PART_HEADINGS;
/** A column of one dimension: of a reading, by what is read and its number, or one behind the readings. */
export type ColumnKey =
  | Part
  | `${"left" | "right" | "direct"} ${number}`
  | `${"left" | "right" | "direct"} ${number} typed`;

const WIDTHS: Partial<Record<Part, number>> = {
  factor: 13,
  factorPart: 13,
  recorded: 18,
  objective: 38,
  calibration: 15,
  calibrationId: 40,
  readAt: 21,
  readBy: 24,
};

/** How readings were taken on a sheet: what its columns must be able to hold. */
export interface ReadingKinds {
  readonly twoEdges: boolean;
  readonly direct: boolean;
  /** The highest number of a reading of one dimension. */
  readonly repeats: number;
  /** Some row says where its specimen lies. */
  readonly stage: boolean;
  readonly square: boolean;
  /** The longest label, in characters, and whether any row has a note or a reason, a strike, a flag, a size missing. */
  readonly holds: {
    readonly label: number;
    readonly note: boolean;
    readonly struck: boolean;
    readonly flags: boolean;
    readonly missing: boolean;
  };
}

/** Which column of Rows holds what. */
export interface RowLayout {
  readonly kinds: ReadingKinds;
  readonly columns: readonly RowColumn[];
  /** 1-based column of a part of the `index`-th dimension; 0 when this sheet has no such column. */
  column(index: number, key: ColumnKey): number;
  /** Cells of one dimension, in order of its columns, from a function of the column. */
  readonly keys: readonly ColumnKey[];
}

function readingKeys(kinds: ReadingKinds): ColumnKey[] {
  const keys: ColumnKey[] = [];
  for (let repeat = 1; repeat <= kinds.repeats; repeat += 1) {
    const whats = [
      ...(kinds.twoEdges ? (["left", "right"] as const) : []),
      ...(kinds.direct ? (["direct"] as const) : []),
    ];
    for (const what of whats) keys.push(`${what} ${repeat}`, `${what} ${repeat} typed`);
  }
  return keys;
}

function headingOf(key: ColumnKey): string {
  const [what, repeat, typed] = key.split(" ");
  if (repeat === undefined) return PART_HEADINGS[key as Part];
  return readingHeading(what as "left", Number(repeat), typed !== undefined);
}

/** Words of flags and reasons want room where there are some; an empty column is as wide as its heading. */
function widthOf(key: ColumnKey, { flags, missing }: ReadingKinds["holds"]): number {
  if (key === "flags") return flags ? 34 : 10;
  if (key === "missing") return missing ? 70 : 10;
  return WIDTHS[key as Part] ?? 12;
}

/** Columns in front of the dimensions, then those of each dimension; a plain sheet has no columns for repeats. */
export function rowLayout(method: Method, found: ReadingKinds): RowLayout {
  const { dimensions, entry, repeats } = method.definition;
  const kinds: ReadingKinds = {
    twoEdges: found.twoEdges || entry === "two-edges",
    direct: found.direct || entry === "direct",
    repeats: Math.max(repeats, found.repeats, ...dimensions.map((one) => readingsAsked(one, repeats))),
    stage: found.stage,
    square: found.square,
    holds: found.holds,
  };
  const parts = (Object.keys(PART_HEADINGS) as Part[]).filter(
    (part) => kinds.repeats > 1 || (part !== "readings" && part !== "spread"),
  );
  const keys: readonly ColumnKey[] = [...readingKeys(kinds), ...parts];
  const places = new Map(keys.map((key, at) => [key, at]));
  return {
    kinds,
    keys,
    columns: [
      ...fixedColumns(kinds.holds),
      ...dimensions.flatMap(({ name }) =>
        keys.map((key) => ({ header: `${name}: ${headingOf(key)}`, width: widthOf(key, kinds.holds) })),
      ),
    ],
    column(index, key) {
      const at = places.get(key);
      return at === undefined ? 0 : FIXED_COLUMNS + index * keys.length + at + 1;
    },
  };
}
