import { randomBytes } from "node:crypto";
import { RANDOM_BYTES_OF_AN_ID, timeOrderedId } from "#core/contract/time-ordered-id.ts";

/** Makes identifiers that are unique on this bench. */
export interface Ids {
  next(): string;
}

/** UUIDs of version 7: random, and in the order in which they were made. */
export const randomIds: Ids = { next: () => timeOrderedId(Date.now(), randomBytes(RANDOM_BYTES_OF_AN_ID)) };
