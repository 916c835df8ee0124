import { z } from "zod";
import { call } from "../call.ts";
import { Id, RequestId } from "../records/primitives.ts";
import { DocumentLook, ReadIn } from "../records/read-in.ts";
import { TAGS } from "../tags.ts";

export const documentCalls = {
  /** Checks a JSON file of sheets record by record and says what it holds; stores nothing. */
  "documents.look": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ uploadId: Id }),
    output: DocumentLook,
    errors: ["upload.unknown", "upload.incomplete", "document.unfit"],
  }),
  /**
   * Reads a JSON file of sheets into a bench on which there is nothing but people: every record under its own
   * identifier, so that an export gives the same data again. Whole or not at all.
   */
  "documents.readIn": call({
    kind: "write",
    changes: TAGS,
    input: z.strictObject({
      requestId: RequestId,
      uploadId: Id,
      /** Who reads it in, of the people in the file, and is at the bench from then on; null: the person in use. */
      personId: Id.nullable(),
    }),
    output: ReadIn,
    errors: [
      "upload.unknown",
      "upload.incomplete",
      "document.unfit",
      "bench.not-empty",
      "person.missing",
      "person.unknown",
    ],
  }),
} as const;
