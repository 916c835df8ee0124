import { z } from "zod";
import { call } from "../call.ts";
import { Id, StoredDecimal } from "../records/primitives.ts";
import { RowsChanged } from "../records/sheet.ts";

/** What became of the rows of a sheet since a line of the trail. */
export const SheetChanges = z.strictObject({
  /** Number of the trail's last line: to be given as `since` the next time. */
  sequence: z.int(),
  /** The objective in use now. */
  objectiveId: Id,
  /** The setting of the changer now. */
  intermediateMagnification: StoredDecimal,
  /** Rows that acts since then concern, whoever did them; null: none, or `since` was not given. */
  changed: RowsChanged.nullable(),
});
export type SheetChanges = z.infer<typeof SheetChanges>;

export const rowChangeCalls = {
  /** Asked now and then by an open sheet, so that it shows what a re-evaluation or another window has changed. */
  "rows.changedSince": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ sheetId: Id, since: z.int().min(0).nullable() }),
    output: SheetChanges,
    errors: ["sheet.unknown"],
  }),
} as const;
