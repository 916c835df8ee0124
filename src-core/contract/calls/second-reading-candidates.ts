import { z } from "zod";
import { call } from "../call.ts";
import { Id, OptionalLine } from "../records/primitives.ts";

/** A row that may be read a second time: where it is, never what was read. */
export const SecondReadingCandidate = z.strictObject({
  rowId: Id,
  ordinal: z.int(),
  label: OptionalLine,
});

export const secondReadingCandidateCalls = {
  /** How many rows of a sheet there are to choose from, and those of the given ordinals. Tells no reading. */
  "secondReadings.candidates": call({
    kind: "read",
    reads: ["rows"],
    input: z.strictObject({ sheetId: Id, ordinals: z.array(z.int().min(1)).max(1000) }),
    output: z.strictObject({
      /** Rows with a complete reading that are not struck. */
      measured: z.int(),
      /** Those among the given ordinals that can be chosen, in the order given. */
      rows: z.array(SecondReadingCandidate),
      /** The other ordinals: not on the sheet, struck, or not measured. */
      notThere: z.array(z.int()),
    }),
    errors: ["sheet.unknown"],
  }),
} as const;
