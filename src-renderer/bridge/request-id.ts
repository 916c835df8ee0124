import { RANDOM_BYTES_OF_AN_ID, timeOrderedId } from "#core/contract/time-ordered-id.ts";

/** A new identifier of a record that this window begins. */
export function newId(): string {
  return timeOrderedId(Date.now(), crypto.getRandomValues(new Uint8Array(RANDOM_BYTES_OF_AN_ID)));
}

/** A new identifier for one act; sent again unchanged when the same act is retried. */
export function newRequestId(): string {
  return newId();
}
