import { z } from "zod";
import { call, Nothing } from "../call.ts";
import {
  CountCategory,
  CountMethod,
  CountMethodDefinition,
  MOST_CATEGORIES,
  TallyInputs,
} from "../records/count-method.ts";
import { EXPORT_FORMATS, ExportProgress, PAPERS } from "../records/exchange.ts";
import { Id, Reason, RequestId } from "../records/primitives.ts";
import {
  CountingAct,
  CountingEcho,
  FieldPosition,
  NewTally,
  Tally,
  TallyEvent,
  TallyHead,
  TallyState,
} from "../records/tally.ts";
import { TallyResults } from "../records/tally-results.ts";
import { TouchedTally } from "../records/touched-tally.ts";
import { TraceScope } from "../records/trace.ts";

const Which = z.strictObject({ tallyId: Id });
const Act = z.strictObject({ requestId: RequestId, tallyId: Id });

/** Refusals of one act of the counting hand. */
const PRESS_ERRORS = [
  "person.missing",
  "tally.unknown",
  "tally.paused",
  "tally.closed",
  "category.unknown",
  "weight.unreadable",
  "row.unknown",
  "undo.empty",
] as const;

export const tallyCalls = {
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
  "tallies.list": call({
    kind: "read",
    reads: ["counts", "presses"],
    input: Nothing,
    output: z.array(TallyHead),
    errors: [],
  }),
  "tallies.get": call({
    kind: "read",
    reads: ["counts", "presses"],
    input: Which,
    output: Tally,
    errors: ["tally.unknown"],
  }),
  /** Opens a count at its first field and starts its clock; freezes the calibration in force for the train. */
  "tallies.open": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({ requestId: RequestId, tally: NewTally, position: FieldPosition.nullable() }),
    output: Tally,
    errors: [
      "person.missing",
      "countMethod.unknown",
      "categoryList.unknown",
      "microscope.unknown",
      "eyepiece.unknown",
      "objective.unknown",
      "train.unknown",
      "train.missing",
      "item.out-of-service",
    ],
  }),
  "tallies.pause": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: Act,
    output: Tally,
    errors: ["person.missing", "tally.unknown", "tally.closed"],
  }),
  "tallies.resume": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: Act,
    output: Tally,
    errors: ["person.missing", "tally.unknown", "tally.closed"],
  }),
  /**
   * Ends a count and freezes its results. `lastFieldCounted`: the field in hand was counted to its end; when false, its
   * objects stay recorded and are part of no density.
   */
  "tallies.close": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({ requestId: RequestId, tallyId: Id, lastFieldCounted: z.boolean() }),
    output: Tally,
    errors: ["person.missing", "tally.unknown", "tally.closed"],
  }),
  /** Opens a closed count again, paused; the frozen results stay in the trail. */
  "tallies.reopen": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({ requestId: RequestId, tallyId: Id, reason: Reason }),
    output: Tally,
    errors: ["person.missing", "tally.unknown", "tally.open"],
  }),

  /** One key, one object (or half, or a colony). Acknowledged means on disk. */
  "tallies.press": call({
    kind: "write",
    changes: ["presses"],
    input: z.strictObject({ tallyId: Id, act: CountingAct.options[0] }),
    output: CountingEcho,
    errors: PRESS_ERRORS,
  }),
  /**
   * Acts that waited while the host was busy, in their order, in one transaction: all or none. Those already done are
   * answered and not repeated.
   */
  "tallies.pressMany": call({
    kind: "write",
    changes: ["presses", "trail"],
    input: z.strictObject({ tallyId: Id, acts: z.array(CountingAct).min(1).max(500) }),
    output: z.array(CountingEcho),
    errors: PRESS_ERRORS,
  }),
  /** The field in hand is finished; the next begins. A field without a press counts as one. */
  "tallies.newField": call({
    kind: "write",
    changes: ["presses", "trail"],
    input: z.strictObject({ tallyId: Id, act: CountingAct.options[1] }),
    output: CountingEcho,
    errors: PRESS_ERRORS,
  }),
  /** Strikes the last press or new field that still counts; nothing is deleted. */
  "tallies.undo": call({
    kind: "write",
    changes: ["presses", "trail"],
    input: z.strictObject({ tallyId: Id, act: CountingAct.options[2] }),
    output: CountingEcho,
    errors: PRESS_ERRORS,
  }),
  /** Writes down where a field lies on the stage. */
  "tallies.placeField": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      tallyId: Id,
      field: z.int().min(1),
      position: FieldPosition,
    }),
    output: Tally,
    errors: ["person.missing", "tally.unknown", "tally.closed", "field.unknown"],
  }),

  /** Changes inputs of area and density, with a reason; a calibration missing at the start is frozen now if there is one. */
  "tallies.changeInputs": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({ requestId: RequestId, tallyId: Id, inputs: TallyInputs, reason: Reason }),
    output: Tally,
    errors: ["person.missing", "tally.unknown", "tally.closed"],
  }),
  /** Changes keys and names, or adds categories, with a reason: only while paused. A category used stays. */
  "tallies.changeCategories": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      tallyId: Id,
      categories: z.array(CountCategory).min(1).max(MOST_CATEGORIES),
      reason: Reason,
    }),
    output: Tally,
    errors: ["person.missing", "tally.unknown", "tally.closed", "tally.running"],
  }),
  /** The sheet that takes objects measured while counting; null unlinks it. */
  "tallies.linkSheet": call({
    kind: "write",
    changes: ["counts", "trail"],
    input: z.strictObject({ requestId: RequestId, tallyId: Id, sheetId: Id.nullable() }),
    output: Tally,
    errors: ["person.missing", "tally.unknown", "tally.closed", "sheet.unknown"],
  }),

  /** Everything needed to show and go on with a count, also after a crash. */
  "tallies.state": call({
    kind: "read",
    reads: ["counts", "presses"],
    input: Which,
    output: TallyState,
    errors: ["tally.unknown"],
  }),
  /** Events from a sequence number on, in order, for replay. */
  "tallies.events": call({
    kind: "read",
    reads: ["counts", "presses"],
    input: z.strictObject({ tallyId: Id, from: z.int().min(1), count: z.int().min(1).max(5000) }),
    output: z.strictObject({ last: z.int(), events: z.array(TallyEvent) }),
    errors: ["tally.unknown"],
  }),
  /** The frozen results of a closed count, else those of this moment, by the same core function. */
  "tallies.results": call({
    kind: "read",
    reads: ["counts", "presses"],
    input: Which,
    output: z.strictObject({ frozen: z.boolean(), results: TallyResults }),
    errors: ["tally.unknown"],
  }),
  /** The counts a doubt reaches through the factor of their area, and what a replacement would make of each density. */
  "tallies.touchedBy": call({
    kind: "read",
    reads: ["counts", "presses", "calibrations", "micrometers", "microscopes", "events", "checks"],
    input: TraceScope,
    output: z.array(TouchedTally),
    errors: ["subject.unknown", "replacement.unknown", "replacement.unusable"],
  }),
  /**
   * Begins to write a workbook, the table of fields, or all its records with every press; `exports.status` tells how far
   * it is, `exports.cancel` stops it. Null when the person cancels.
   */
  "tallies.export": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ tallyId: Id, format: z.enum(EXPORT_FORMATS), paper: z.enum(PAPERS) }),
    output: ExportProgress.nullable(),
    errors: ["tally.unknown", "file.unwritable"],
  }),
} as const;
