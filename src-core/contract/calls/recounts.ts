import { z } from "zod";
import { call } from "../call.ts";
import { Id, RequestId, TypedNumber } from "../records/primitives.ts";
import { Recount } from "../records/recount.ts";
import { decimalAsTyped, optionalDecimal } from "../records/typed-number.ts";

/** Share of fields or counts that are counted again. */
const Share = decimalAsTyped({ sign: "positive", most: 1 });

export const recountCalls = {
  /** Newest first; of one count, or of all when `countId` is null. */
  "recounts.list": call({
    kind: "read",
    reads: ["recounts"],
    input: z.strictObject({ countId: Id.nullable() }),
    output: z.array(Recount),
    errors: [],
  }),
  "recounts.get": call({
    kind: "read",
    reads: ["recounts"],
    input: z.strictObject({ recountId: Id }),
    output: Recount,
    errors: ["recount.unknown"],
  }),
  /** Draws a random share of the fields of one closed count. */
  "recounts.planFields": call({
    kind: "write",
    changes: ["recounts", "trail"],
    input: z.strictObject({ requestId: RequestId, countId: Id, share: Share }),
    output: Recount,
    errors: ["person.missing", "count.unknown", "count.open"],
  }),
  /** Draws a random share of closed counts, each to be made again in fields of its own. */
  "recounts.planSlides": call({
    kind: "write",
    changes: ["recounts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      countIds: z.array(Id).min(1).max(500),
      share: Share,
    }),
    output: z.array(Recount),
    errors: ["person.missing", "count.unknown", "count.open"],
  }),
  /** Counts of one field, by category; entering a field again replaces it, and the trail keeps both. */
  "recounts.enter": call({
    kind: "write",
    changes: ["recounts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      recountId: Id,
      field: z.int().min(1),
      counts: z.record(z.string().max(20), TypedNumber),
    }),
    output: Recount,
    errors: ["person.missing", "recount.unknown", "recount.finished", "field.unknown", "category.unknown"],
  }),
  /** Ends a recount, uncovers the first result and compares. `intracounterDeviation` S_r may be empty. */
  "recounts.finish": call({
    kind: "write",
    changes: ["recounts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      recountId: Id,
      intracounterDeviation: optionalDecimal({ sign: "positive" }),
    }),
    output: Recount,
    errors: ["person.missing", "recount.unknown", "recount.finished", "recount.incomplete"],
  }),
} as const;
