import { call, Nothing } from "../call.ts";
import { OwnReading } from "../records/own-reading.ts";

export const ownReadingCalls = {
  /** Of the person at the bench and of nobody else; null: nobody is at the bench. */
  "ownReading.read": call({
    kind: "read",
    reads: [
      "present person",
      "people",
      "methods",
      "sheets",
      "rows",
      "second readings",
      "calibrations",
      "checks",
      "practice",
    ],
    input: Nothing,
    output: OwnReading.nullable(),
    errors: [],
  }),
} as const;
