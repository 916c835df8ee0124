import { z } from "zod";
import { call } from "../call.ts";
import { Correction, NewCorrection } from "../records/correction.ts";
import { RequestId } from "../records/primitives.ts";

export const correctionCalls = {
  /**
   * Puts a word of a record right: a slip in a name, sample or serial number, or what was left empty. Results never depend
   * on it. A closed sheet or count is reopened first, so that its signatures fall and are asked for again.
   */
  "records.correct": call({
    kind: "write",
    changes: ["people", "microscopes", "micrometers", "sheets", "counts", "recounts", "trail"],
    input: z.strictObject({ requestId: RequestId, correction: NewCorrection }),
    output: Correction,
    errors: [
      "person.missing",
      "item.unknown",
      "item.unchanged",
      "person.taken",
      "microscope.taken",
      "micrometer.taken",
      "sheet.closed",
      "count.closed",
    ],
  }),
} as const;
