import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { GivenCellVolume } from "../records/cell-volume.ts";
import { CONTROL_KINDS, ControlSample, ControlSeries } from "../records/control-sample.ts";
import {
  Count,
  CountEvent,
  CountHead,
  CountingAct,
  CountingEcho,
  CountOfSeries,
  CountState,
  FieldPosition,
  NewCount,
} from "../records/count.ts";
import {
  CountCategory,
  CountInputs,
  CountMethod,
  CountMethodDefinition,
  MOST_CATEGORIES,
} from "../records/count-method.ts";
import { CountResults } from "../records/count-results.ts";
import { EXPORT_FORMATS, ExportProgress, PAPERS } from "../records/exchange.ts";
import { CountSearch, FoundCounts } from "../records/list-search.ts";
import { Id, OptionalLine, Reason, RequestId } from "../records/primitives.ts";
import { SampleList } from "../records/sheet.ts";
import { TouchedCount } from "../records/touched-count.ts";
import { TraceScope } from "../records/trace.ts";

const Which = z.strictObject({ countId: Id });
const ControlsOf = z.strictObject({ familyId: Id, kind: z.enum(CONTROL_KINDS) });
const Act = z.strictObject({ requestId: RequestId, countId: Id });

/** Refusals of one act of the counting hand. */
const PRESS_ERRORS = [
  "person.missing",
  "count.unknown",
  "count.paused",
  "count.closed",
  "category.unknown",
  "weight.unreadable",
  "row.unknown",
  "undo.empty",
  "item.out-of-service",
] as const;

/** Refusals of opening a count. */
const OPENING_REFUSED = [
  "person.missing",
  "countMethod.unknown",
  "categoryList.unknown",
  "microscope.unknown",
  "eyepiece.unknown",
  "objective.unknown",
  "train.unknown",
  "train.missing",
  "item.out-of-service",
] as const;

export const countCalls = {
  /** The newest version of every count method. */
  "countMethods.list": call({
    kind: "read",
    reads: ["count methods"],
    input: Nothing,
    output: z.array(CountMethod),
    errors: [],
  }),
  "countMethods.get": call({
    kind: "read",
    reads: ["count methods"],
    input: z.strictObject({ countMethodId: Id }),
    output: CountMethod,
    errors: ["countMethod.unknown"],
  }),
  /** Defines a count method, or the next version of one when `familyId` is given. */
  "countMethods.define": call({
    kind: "write",
    changes: ["count methods", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      familyId: Id.nullable(),
      definition: CountMethodDefinition,
    }),
    output: CountMethod,
    errors: ["person.missing", "countMethod.unknown", "countMethod.taken"],
  }),

  /** Newest first. */
  "counts.list": call({
    kind: "read",
    reads: ["counts", "presses"],
    input: Nothing,
    output: z.array(CountHead),
    errors: [],
  }),
  /** One page of the counts that are looked for; sorted by rows, it is their field that counts. */
  "counts.search": call({
    kind: "read",
    reads: ["counts", "presses", "count methods"],
    input: CountSearch,
    output: FoundCounts,
    errors: [],
  }),
  "counts.get": call({
    kind: "read",
    reads: ["counts", "presses"],
    input: Which,
    output: Count,
    errors: ["count.unknown"],
  }),
  /** Opens a count at its first field and starts its clock; freezes the calibration in force for the train. */
  "counts.open": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({ requestId: RequestId, count: NewCount, position: FieldPosition.nullable() }),
    output: Count,
    errors: OPENING_REFUSED,
  }),
  /**
   * Opens a count for each of several samples, in their order, all of them or none. They wait with their clocks standing;
   * each takes the calibration that is in force when it is begun.
   */
  "counts.openMany": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      count: NewCount.omit({ sample: true }),
      samples: SampleList,
    }),
    output: z.array(Count),
    errors: OPENING_REFUSED,
  }),
  "counts.pause": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: Act,
    output: Count,
    errors: ["person.missing", "count.unknown", "count.closed"],
  }),
  "counts.resume": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: Act,
    output: Count,
    errors: ["person.missing", "count.unknown", "count.closed", "item.out-of-service"],
  }),
  /**
   * Ends a count and freezes its results. `lastFieldCounted`: the field in hand was counted to its end; when false, its
   * objects stay recorded and are part of no density.
   */
  "counts.close": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({ requestId: RequestId, countId: Id, lastFieldCounted: z.boolean() }),
    output: Count,
    errors: ["person.missing", "count.unknown", "count.closed"],
  }),
  /** Opens a closed count again, paused; the frozen results stay in the trail. */
  "counts.reopen": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({ requestId: RequestId, countId: Id, reason: Reason }),
    output: Count,
    errors: ["person.missing", "count.unknown", "count.open"],
  }),

  /** One key, one object (or half, or a colony). Acknowledged means on disk. */
  "counts.press": call({
    kind: "write",
    changes: ["presses"],
    input: z.strictObject({ countId: Id, act: CountingAct.options[0] }),
    output: CountingEcho,
    errors: PRESS_ERRORS,
  }),
  /**
   * Acts that waited while the host was busy, in their order, in one transaction: all or none. Those already done are
   * answered and not repeated.
   */
  "counts.pressMany": call({
    kind: "write",
    changes: ["presses", "trail"],
    input: z.strictObject({ countId: Id, acts: z.array(CountingAct).min(1).max(500) }),
    output: z.array(CountingEcho),
    errors: PRESS_ERRORS,
  }),
  /** The field in hand is finished; the next begins. A field without a press counts as one. */
  "counts.newField": call({
    kind: "write",
    changes: ["presses", "trail"],
    input: z.strictObject({ countId: Id, act: CountingAct.options[1] }),
    output: CountingEcho,
    errors: PRESS_ERRORS,
  }),
  /** Strikes the last press or new field that still counts; nothing is deleted. */
  "counts.undo": call({
    kind: "write",
    changes: ["presses", "trail"],
    input: z.strictObject({ countId: Id, act: CountingAct.options[2] }),
    output: CountingEcho,
    errors: PRESS_ERRORS,
  }),
  /** Writes down where a field lies on the stage. */
  "counts.placeField": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      countId: Id,
      field: z.int().min(1),
      position: FieldPosition,
    }),
    output: Count,
    errors: ["person.missing", "count.unknown", "count.closed", "field.unknown"],
  }),

  /** Changes inputs of area and density, with a reason; a calibration missing at the start is frozen now if there is one. */
  "counts.changeInputs": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({ requestId: RequestId, countId: Id, inputs: CountInputs, reason: Reason }),
    output: Count,
    errors: ["person.missing", "count.unknown", "count.closed"],
  }),
  /** Changes keys and names, or adds categories, with a reason: only while paused. A category used stays. */
  "counts.changeCategories": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      countId: Id,
      categories: z.array(CountCategory).min(1).max(MOST_CATEGORIES),
      reason: Reason,
    }),
    output: Count,
    errors: ["person.missing", "count.unknown", "count.closed", "count.running"],
  }),
  /** The sheet that takes objects measured while counting; null unlinks it. */
  "counts.linkSheet": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({ requestId: RequestId, countId: Id, sheetId: Id.nullable() }),
    output: Count,
    errors: ["person.missing", "count.unknown", "count.closed", "sheet.unknown"],
  }),

  /**
   * The volume of one counted unit of a category, typed or taken from the rows of a sheet as they are now; null takes it
   * away. Also of a closed count: its frozen results do not hold it. Another volume in place of one needs a reason.
   */
  "counts.giveCellVolume": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      countId: Id,
      category: z.string().max(20),
      given: GivenCellVolume.nullable(),
      reason: OptionalLine,
    }),
    output: Count,
    errors: ["person.missing", "count.unknown", "category.unknown", "sheet.unknown"],
  }),
  /** Says what control sample a count is, or that it is none (null); another one in place of one needs a reason. */
  "counts.setControl": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      countId: Id,
      control: ControlSample.nullable(),
      reason: OptionalLine,
    }),
    output: Count,
    errors: ["person.missing", "count.unknown"],
  }),
  /** The closed control samples of one kind by the versions of one method as a series: at most the last 500. */
  "counts.controls": call({
    kind: "read",
    reads: ["counts", "count methods"],
    input: ControlsOf,
    output: ControlSeries,
    errors: ["countMethod.unknown"],
  }),
  /** Begins to write that series as a workbook; null when the person cancels. */
  "counts.controlsWorkbook": call({
    kind: "read",
    reads: [],
    input: ControlsOf.extend({ paper: z.enum(PAPERS) }),
    output: ExportProgress.nullable(),
    errors: ["countMethod.unknown", "file.unwritable"],
  }),
  /** The closed counts of the same sample by the same method, whatever its version, oldest first: at most the last 100. */
  "counts.sameSample": call({
    kind: "read",
    reads: ["counts", "count methods"],
    input: Which,
    output: z.array(CountOfSeries),
    errors: ["count.unknown"],
  }),
  /** The categories whose sheet now gives another volume than was taken from it. */
  "counts.movedCellVolumes": call({
    kind: "read",
    reads: ["counts", "sheets", "rows", "methods", "calibrations"],
    input: Which,
    output: z.array(z.string()),
    errors: ["count.unknown"],
  }),

  /** Everything needed to show and go on with a count, also after a crash. */
  "counts.state": call({
    kind: "read",
    reads: ["counts", "presses"],
    input: Which,
    output: CountState,
    errors: ["count.unknown"],
  }),
  /** Events from a sequence number on, in order, for replay. */
  "counts.events": call({
    kind: "read",
    reads: ["counts", "presses"],
    input: z.strictObject({ countId: Id, from: z.int().min(1), count: z.int().min(1).max(5000) }),
    output: z.strictObject({ last: z.int(), events: z.array(CountEvent) }),
    errors: ["count.unknown"],
  }),
  /** The frozen results of a closed count, else those of this moment, by the same core function. */
  "counts.results": call({
    kind: "read",
    reads: ["counts", "presses"],
    input: Which,
    output: z.strictObject({ frozen: z.boolean(), results: CountResults }),
    errors: ["count.unknown"],
  }),
  /** The counts a doubt reaches through the factor of their area, and what a replacement would make of each density. */
  "counts.touchedBy": call({
    kind: "read",
    reads: ["counts", "presses", "calibrations", "micrometers", "microscopes", "events", "checks"],
    input: TraceScope,
    output: z.array(TouchedCount),
    errors: ["subject.unknown", "replacement.unknown", "replacement.unusable"],
  }),
  /**
   * Begins to write a workbook, the table of fields, or all its records with every press; `exports.status` tells how far
   * it is, `exports.cancel` stops it. Null when the person cancels.
   */
  "counts.export": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ countId: Id, format: z.enum(EXPORT_FORMATS), paper: z.enum(PAPERS) }),
    output: ExportProgress.nullable(),
    errors: ["count.unknown", "file.unwritable"],
  }),
} as const;
