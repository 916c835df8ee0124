import { z } from "zod";
import { FLAG_KEYS } from "../../measurement/flag.ts";
import { Id, Instant, Name, Note, OptionalLine, StoredDecimal } from "./primitives.ts";

export const Sheet = z.strictObject({
  id: Id,
  /** Running number of the bench, printed as the sheet's name: `S-0001`. */
  number: z.string(),
  sample: Name,
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
});
export type Sheet = z.infer<typeof Sheet>;

export const NewSheet = z.strictObject({
  sample: Name,
  note: Note,
  methodId: Id,
  microscopeId: Id,
  eyepieceId: Id,
  intermediateMagnification: StoredDecimal,
  objectiveId: Id,
});

export const READING_EDGES = ["left", "right"] as const;
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

/** One dimension of one row. */
export const Measurement = z.strictObject({
  dimension: z.string(),
  /** Readings exactly as typed; null when not yet taken. */
  left: z.string().nullable(),
  right: z.string().nullable(),
  trainId: Id,
  /** The calibration the size was converted with; null when none was in force. */
  calibrationId: Id.nullable(),
  /** right − left, div; null until both edges are in. */
  divisions: StoredDecimal.nullable(),
  size: SizeRecord.nullable(),
  /** Why there is no size although both edges are in. */
  missing: z.string().nullable(),
  flags: z.array(z.enum(FLAG_KEYS)),
  enteredAt: Instant,
  enteredBy: Id,
});
export type Measurement = z.infer<typeof Measurement>;

export const SpecimenRow = z.strictObject({
  id: Id,
  sheetId: Id,
  /** 1, 2, 3 … in order of entry. */
  ordinal: z.int(),
  label: OptionalLine,
  note: Note,
  struck: z.strictObject({ at: Instant, by: Id, reason: z.string() }).nullable(),
  measurements: z.array(Measurement),
});
export type SpecimenRow = z.infer<typeof SpecimenRow>;

/** A cell of the entry grid that holds a reading. */
export const ReadingCell = z.strictObject({ dimension: z.string(), edge: z.enum(READING_EDGES) });
export type ReadingCell = z.infer<typeof ReadingCell>;

/** Text left in a cell when the window went away. */
export const CellDraft = z.strictObject({
  sheetId: Id,
  rowId: Id,
  cell: ReadingCell,
  typed: z.string().max(400),
});
export type CellDraft = z.infer<typeof CellDraft>;
