import { keptWord } from "#core/contract/records/correction.ts";
import type { ToldEvent } from "#core/contract/trail-events/read-event.ts";

/**
 * The fields of a record as it was registered, with what was corrected since by the later events about it.
 * @param events of the record, oldest first
 */
export function correctedBy<F extends object>(registered: F, events: readonly ToldEvent[]): F {
  const changes = events
    .filter((event) => event.act === "records.correct")
    .map(({ detail: { field, after } }) => ({
      [field]: keptWord(field, after),
    }));
  return Object.assign({}, registered, ...changes);
}
