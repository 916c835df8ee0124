import { z } from "zod";
import { CellVolume } from "./cell-volume.ts";
import { ControlSample } from "./control-sample.ts";
import { CountCategory, CountInputs, MOST_CATEGORIES } from "./count-method.ts";
import { CountResults } from "./count-results.ts";
import {
  Id,
  Instant,
  Name,
  Note,
  OptionalLine,
  RequestId,
  StoredDecimal,
  TypedNumber,
} from "./primitives.ts";
import { StagePosition } from "./sheet.ts";

/** `counting`: keys count and the key map is locked. `paused`: goes on at the same field. `closed`: results frozen. */
export const COUNT_STATES = ["counting", "paused", "closed"] as const;

/** The parts a factor belongs to; none for a count whose area and density need no factor. */
export const CountTrain = z.strictObject({
  microscopeId: Id,
  eyepieceId: Id,
  intermediateMagnification: StoredDecimal,
  objectiveId: Id,
});

export const NewCount = z.strictObject({
  sample: Name,
  customer: OptionalLine.default(""),
  note: Note,
  countMethodId: Id,
  train: CountTrain.nullable(),
  /** Key map of this count: the method's categories, each under the key chosen, and any the laboratory adds. */
  categories: z.array(CountCategory).min(1).max(MOST_CATEGORIES),
  /** The list they were taken over from: then the method's own objects need not be among them. */
  categoryListId: Id.nullable().default(null),
  inputs: CountInputs,
  /** Batch of the marker tablets or of the reagent; empty when there is none. */
  batch: OptionalLine,
});

export const Count = z.strictObject({
  id: Id,
  /** Running number of the bench, printed as the count's name: `T-0001`. */
  number: z.string(),
  sample: Name,
  /** For whom it is counted, as the report names them; absent when nobody is named. */
  customer: Name.optional(),
  note: Note,
  countMethodId: Id,
  train: CountTrain.nullable(),
  trainId: Id.nullable(),
  /** The calibration frozen for the area; null when none was in force or none is needed. */
  calibrationId: Id.nullable(),
  categories: z.array(CountCategory),
  /** The version of a category list that they came from; absent when they came from the method alone. */
  categoryListId: Id.exactOptional(),
  inputs: CountInputs,
  batch: OptionalLine,
  /** What stood in the way of the train when it was used all the same, one sentence each, first seen first. */
  trainCautions: z.array(z.string()),
  state: z.enum(COUNT_STATES),
  /** 1, 2, 3 …: the field in hand. */
  currentField: z.int().min(1),
  /** Sequence number of the last event. */
  lastSequence: z.int(),
  /** Seconds counted before the last pause. */
  secondsBefore: z.int(),
  /** Since when the count runs; null while paused or closed. */
  runningSince: Instant.nullable(),
  openedAt: Instant,
  openedBy: Id,
  closedAt: Instant.nullable(),
  closedBy: Id.nullable(),
  /** True when the last field was counted to its end before closing. */
  lastFieldCounted: z.boolean(),
  /** The sheet that takes objects measured while counting. */
  linkedSheetId: Id.nullable(),
  /** Frozen at close; null until then and after re-opening. */
  results: CountResults.nullable(),
  /** Volumes of the counted cells, each category once; absent while there are none. They stand beside the results. */
  cellVolumes: z.array(CellVolume).min(1).exactOptional(),
  /** What control sample it is; absent for a sample as any other. */
  control: ControlSample.exactOptional(),
});
export type Count = z.infer<typeof Count>;

/** A count in a list, without its results. */
export const CountHead = Count.omit({
  results: true,
  categories: true,
  inputs: true,
  trainCautions: true,
  cellVolumes: true,
  control: true,
});
export type CountHead = z.infer<typeof CountHead>;

/** A closed count among others of the same sample by the same method. */
export const CountOfSeries = z.strictObject({
  id: Id,
  number: z.string(),
  closedAt: Instant,
  /** Objects of the total, and fields counted to their end. */
  total: StoredDecimal,
  fields: z.int(),
  /** The fields differ more than chance allows. */
  isClustered: z.boolean(),
});
export type CountOfSeries = z.infer<typeof CountOfSeries>;

/** `press`: objects. `field`: the field in hand was finished and the next begun. `undo`: struck the event named. */
export const COUNT_EVENT_KINDS = ["press", "field", "undo"] as const;

/**
 * One event of the sequence, never changed and never deleted. `hash` covers every other column but `struckBy` (which
 * follows from the undo that names it) and the hash of the event before.
 */
export const CountEvent = z.strictObject({
  sequence: z.int().min(1),
  kind: z.enum(COUNT_EVENT_KINDS),
  /** The field it belongs to; for `field`, the one just begun. */
  field: z.int().min(1),
  category: z.string().nullable(),
  /** Objects: 1, 0.5 or the number of a colony; null for other kinds. */
  weight: StoredDecimal.nullable(),
  /** The row of the linked sheet that measured this object. */
  rowId: Id.nullable(),
  /** For `undo`: the sequence number of what it struck. */
  strikes: z.int().nullable(),
  /** The undo that struck it; null while it counts. */
  struckBy: z.int().nullable(),
  at: Instant,
  by: Id,
  requestId: RequestId,
  hash: z.string().regex(/^[0-9a-f]{64}$/),
});
export type CountEvent = z.infer<typeof CountEvent>;

/** Where a field lies on the stage, as a row does: by the verniers, mm, or by the square of a finder slide. */
export const FieldPosition = StagePosition;
export type FieldPosition = z.infer<typeof FieldPosition>;

/** Milliseconds for which an act waited in the window before it was sent. */
const waitedMs = z.int().min(0).max(86_400_000);

/** One act of the counting hand, each with its own request id. */
export const CountingAct = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("press"),
    requestId: RequestId,
    category: z.string().max(20),
    /** `1`, `0.5` or the number typed before the key. */
    weight: TypedNumber,
    rowId: Id.nullable(),
    waitedMs,
  }),
  z.strictObject({
    kind: z.literal("field"),
    requestId: RequestId,
    /** Position of the field that begins. */
    position: FieldPosition.nullable(),
    waitedMs,
  }),
  z.strictObject({ kind: z.literal("undo"), requestId: RequestId, waitedMs }),
]);
export type CountingAct = z.infer<typeof CountingAct>;

/** What an act changed: the event as stored, and the numbers the hand wants to hear at once. */
export const CountingEcho = z.strictObject({
  event: CountEvent,
  /** What an undo struck; null for other kinds. */
  struck: CountEvent.nullable(),
  currentField: z.int(),
  /** Objects of the event's category (or the struck one's) and of the whole total; null where none is concerned. */
  categoryCount: StoredDecimal.nullable(),
  total: StoredDecimal,
  /** Objects of the total in the field in hand. */
  fieldTotal: StoredDecimal,
});
export type CountingEcho = z.infer<typeof CountingEcho>;

export const CountField = z.strictObject({
  ordinal: z.int().min(1),
  position: FieldPosition.nullable(),
  begunAt: Instant,
  /** Objects by category key; a category without a press is left out. */
  counts: z.record(z.string(), StoredDecimal),
  /** Presses by category key. */
  presses: z.record(z.string(), z.int()),
});
export type CountField = z.infer<typeof CountField>;

export const CountState = z.strictObject({
  count: Count,
  /** Every field by its number, the one in hand last. */
  fields: z.array(CountField),
  /** The last events, newest first. */
  lastEvents: z.array(CountEvent),
});
export type CountState = z.infer<typeof CountState>;
