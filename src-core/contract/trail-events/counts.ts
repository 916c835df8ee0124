import { z } from "zod";
import { CellVolume } from "../records/cell-volume.ts";
import { ControlSample } from "../records/control-sample.ts";
import { Count, CountEvent, FieldPosition } from "../records/count.ts";
import { CountCategory, CountInputs } from "../records/count-method.ts";
import { CountResults } from "../records/count-results.ts";
import { Id } from "../records/primitives.ts";
import { Recount, RecountReport } from "../records/recount.ts";
import { STORED } from "../stored-names.ts";
import { changeOf } from "./change-of.ts";

/** Anchors the chain of a count's events: the last one and its hash. */
const Anchored = CountEvent.pick({ sequence: true, hash: true }).extend({ sequence: z.int().min(0) });

const Field = z.int().min(1);
const Entered = Recount.shape.entries.element.shape.counts;

const RecountPlanned = Recount.pick({ kind: true, share: true, fields: true }).extend({
  planId: Id,
  [STORED.countId]: Id,
});

/** Counts and recounts. */
export const COUNT_DETAILS = {
  "counts.open": {
    count: Count.pick({
      sample: true,
      note: true,
      countMethodId: true,
      trainId: true,
      calibrationId: true,
      categories: true,
      inputs: true,
      batch: true,
      trainCautions: true,
    }).extend({
      customer: Count.shape.customer.unwrap().nullable(),
      /** The list they came from; absent when they came from the method alone. */
      categoryListId: Id.optional(),
      position: FieldPosition.nullable(),
      /** Opened with others, its clock standing; absent where it was begun at once. */
      waits: z.literal(true).exactOptional(),
    }),
  },
  "counts.newField": { count: Anchored.extend({ field: Field, position: FieldPosition.nullable() }) },
  "counts.pause": { count: Anchored.extend({ field: Field, seconds: z.int() }) },
  "counts.resume": {
    count: Anchored.extend({
      field: Field,
      leftRunning: z.boolean(),
      trainCautions: z.array(z.string()),
      /** Nothing had been counted: its first field is begun now, with the calibration in force now. */
      begins: z.strictObject({ calibrationId: changeOf(Id.nullable()) }).exactOptional(),
    }),
  },
  "counts.close": {
    count: Anchored.extend({
      lastFieldCounted: z.boolean(),
      lastField: z.strictObject({ number: Field, objects: z.string() }),
      seconds: z.int(),
      results: CountResults,
    }),
  },
  "counts.reopen": { count: z.strictObject({ field: Field }) },
  "counts.changeInputs": {
    count: z.strictObject({ inputs: changeOf(CountInputs), calibrationId: changeOf(Id.nullable()) }),
  },
  "counts.changeCategories": { count: z.strictObject({ categories: changeOf(z.array(CountCategory)) }) },
  "counts.linkSheet": { count: z.strictObject({ linkedSheetId: changeOf(Id.nullable()) }) },
  "counts.giveCellVolume": {
    count: z.strictObject({
      category: CellVolume.shape.category,
      cellVolume: changeOf(CellVolume.nullable()),
    }),
  },
  "counts.setControl": { count: z.strictObject({ control: changeOf(ControlSample.nullable()) }) },
  "counts.placeField": {
    count: z.strictObject({ field: Field, position: changeOf(FieldPosition.nullable()) }),
  },
  "counts.cautionsFollowed": { count: z.strictObject({ checkId: Id, trainCautions: z.array(z.string()) }) },
  "recounts.planFields": { recount: RecountPlanned },
  "recounts.planSlides": { recount: RecountPlanned },
  "recounts.enter": {
    recount: z.strictObject({ field: Field, from: Entered.nullable(), to: Entered }),
  },
  "recounts.finish": { recount: z.strictObject({ report: RecountReport }) },
} as const;
