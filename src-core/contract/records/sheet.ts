import { z } from "zod";
import { ENTRY_KINDS, MOST_REPEATS } from "../../vocabulary/entry.ts";
import { FLAG_KEYS } from "../../vocabulary/flag.ts";
import { Eyes } from "./eyes.ts";
import { Id, Instant, Name, Note, OptionalLine, StoredDecimal, TypedNumber } from "./primitives.ts";
import { Containers, PortionLookedAt, VolumeTested } from "./tested-amount.ts";

/** Somebody looked and said what the light goes through. */
export const TrainConfirmation = z.strictObject({
  at: Instant,
  by: Id,
  objectiveId: Id,
  intermediateMagnification: StoredDecimal,
  /** The person's interpupillary setting, mm as typed; empty when not said. */
  interpupillary: TypedNumber,
  /** Absent: nothing has been said of them, here or before. */
  eyes: Eyes.optional(),
});
export type TrainConfirmation = z.infer<typeof TrainConfirmation>;

export const Sheet = z.strictObject({
  id: Id,
  /** Running number of the bench, printed as the sheet's name: `S-0001`. */
  number: z.string(),
  sample: Name,
  /** For whom it is measured, as the report names them; absent when nobody is named. */
  customer: Name.optional(),
  /** What the specimens come from: containers pooled, mL tested, per cent looked at; absent where not named. */
  containers: Containers.min(1).optional(),
  volume: VolumeTested.min(1).optional(),
  portion: PortionLookedAt.min(1).optional(),
  note: Note,
  methodId: Id,
  microscopeId: Id,
  eyepieceId: Id,
  intermediateMagnification: StoredDecimal,
  /** The objective in use: sets the train of every row entered from now on. */
  objectiveId: Id,
  openedAt: Instant,
  openedBy: Id,
  rowCount: z.int(),
  struckCount: z.int(),
  lastConfirmed: TrainConfirmation.nullable(),
});
export type Sheet = z.infer<typeof Sheet>;

export const NewSheet = z.strictObject({
  sample: Name,
  customer: OptionalLine.default(""),
  containers: Containers.default(""),
  volume: VolumeTested.default(""),
  portion: PortionLookedAt.default(""),
  note: Note,
  methodId: Id,
  microscopeId: Id,
  eyepieceId: Id,
  intermediateMagnification: StoredDecimal,
  objectiveId: Id,
});

/** Samples of one job, a sheet or a count each, opened with the same parts and method. */
export const MOST_SAMPLES = 200;
export const SampleList = z
  .array(Name)
  .min(1, "holds no sample: write one a line")
  .max(MOST_SAMPLES, `are too many: at most ${MOST_SAMPLES} at once`)
  .superRefine((samples, context) => {
    const first = new Map<string, number>();
    samples.forEach((sample, at) => {
      const before = first.get(sample);
      if (before === undefined) first.set(sample, at);
      else {
        const message = `holds “${sample}” twice, as ${before + 1} and ${at + 1}: give each its own name`;
        context.addIssue({ code: "custom", message });
      }
    });
  });

/** What a cell holds: one edge, or the divisions themselves. */
export const READING_EDGES = ["left", "right", "direct"] as const;
export type ReadingEdge = (typeof READING_EDGES)[number];

/** A size as frozen with its row, µm. */
export const SizeRecord = z.strictObject({
  value: StoredDecimal,
  standardUncertainty: StoredDecimal,
  degreesOfFreedom: StoredDecimal.nullable(),
  coverageFactor: StoredDecimal,
  expandedUncertainty: StoredDecimal,
  shownValue: z.string(),
  shownUncertainty: z.string(),
});
export type SizeRecord = z.infer<typeof SizeRecord>;

/** Which reading of a dimension: 1 is the first. */
const RepeatNumber = z.int().min(1).max(MOST_REPEATS);

/** One reading of a dimension exactly as typed; null where not taken. */
export const RepeatReading = z.strictObject({
  number: RepeatNumber,
  left: z.string().nullable(),
  right: z.string().nullable(),
  direct: z.string().nullable(),
});
export type RepeatReading = z.infer<typeof RepeatReading>;

/** One dimension of one row. */
export const Measurement = z.strictObject({
  dimension: z.string(),
  /** How this dimension of this row is read; all its readings are of this kind. */
  entry: z.enum(ENTRY_KINDS),
  /** The first reading, exactly as typed; null when not yet taken. */
  left: z.string().nullable(),
  right: z.string().nullable(),
  direct: z.string().nullable(),
  /** The second, third … reading, by number; `readingsOf` lists the first with them. */
  repeats: z.array(RepeatReading),
  trainId: Id,
  /** The calibration the size was converted with; null when none was in force. */
  calibrationId: Id.nullable(),
  /** Mean of the complete readings, each right − left or direct, div; null until one is complete. */
  divisions: StoredDecimal.nullable(),
  size: SizeRecord.nullable(),
  /** Why there is no size although a reading is complete. */
  missing: z.string().nullable(),
  flags: z.array(z.enum(FLAG_KEYS)),
  enteredAt: Instant,
  enteredBy: Id,
});
export type Measurement = z.infer<typeof Measurement>;

/**
 * Where the specimen lies on the mechanical stage: by its verniers as they are read, mm, either of which may be empty, or
 * by the square of a finder slide; absent when none is named.
 */
export const StagePosition = z.strictObject({
  x: TypedNumber,
  y: TypedNumber,
  square: z.string().max(40).optional(),
});
export type StagePosition = z.infer<typeof StagePosition>;

/** Factor or program that made a size elsewhere, by the word of the person who took it in. */
const ConvertedBy = z.string().trim().min(1, "must say by which factor or program").max(200);

/** Sizes that came in micrometres: no reading of this bench is behind them, and no chain leads from them to the SI. */
export const SizesElsewhere = z.strictObject({
  convertedBy: ConvertedBy,
  /** As they stood in the file, µm. */
  sizes: z.array(z.strictObject({ dimension: z.string(), typed: z.string() })).min(1),
});
export type SizesElsewhere = z.infer<typeof SizesElsewhere>;

export const SpecimenRow = z.strictObject({
  id: Id,
  sheetId: Id,
  /** 1, 2, 3 … in order of entry. */
  ordinal: z.int(),
  label: OptionalLine,
  note: Note,
  stage: StagePosition.nullable(),
  struck: z.strictObject({ at: Instant, by: Id, reason: z.string() }).nullable(),
  measurements: z.array(Measurement),
  /** Sizes of this row that were converted elsewhere; absent where there are none. They are never changed. */
  elsewhere: SizesElsewhere.optional(),
});
export type SpecimenRow = z.infer<typeof SpecimenRow>;

/** A row whose place on the stage is known. */
export const PlacedRow = SpecimenRow.pick({ ordinal: true, label: true }).extend({
  rowId: Id,
  stage: StagePosition,
  isStruck: z.boolean(),
});
export type PlacedRow = z.infer<typeof PlacedRow>;

/** A cell of the entry grid that holds a reading. */
export const ReadingCell = z.strictObject({
  dimension: z.string(),
  edge: z.enum(READING_EDGES),
  repeat: RepeatNumber.default(1),
});
export type ReadingCell = z.infer<typeof ReadingCell>;

/** Text left in a cell when the window went away. */
export const CellDraft = z.strictObject({
  sheetId: Id,
  rowId: Id,
  cell: ReadingCell,
  typed: z.string().max(400),
});
export type CellDraft = z.infer<typeof CellDraft>;

/** What an act changed, for the window to fetch or to show. */
export const RowsChanged = z.strictObject({
  count: z.int(),
  /** First and last ordinal concerned; null when no row is left to show. */
  from: z.int().nullable(),
  to: z.int().nullable(),
  /** The rows themselves when they are few (at most 200); otherwise empty: page them. */
  rows: z.array(SpecimenRow),
  /** Rows that an undo took away: they are kept, but no longer on the sheet. */
  gone: z.array(Id),
  /** Rows on the sheet now. */
  total: z.int(),
});
export type RowsChanged = z.infer<typeof RowsChanged>;

/** A result that was replaced, whole. */
export const SupersededMeasurement = z.strictObject({
  measurement: Measurement,
  at: Instant,
  by: Id,
  act: z.string(),
  reason: z.string().nullable(),
});
export type SupersededMeasurement = z.infer<typeof SupersededMeasurement>;
