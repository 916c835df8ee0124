import type { Client } from "#core/contract/calls.ts";
import type { CountState } from "#core/contract/records/count.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { LiveRecords } from "../../../live/live-records.ts";
import { CountLink } from "./count-link.ts";
import { type CountingState, openedCount } from "./counting-state.ts";
import { CountingStore } from "./counting-store.ts";
import { keptPresses } from "./press-keeper.ts";

/** One count of this window with its link to the host. It outlives its screen while a press is on its way. */
export interface LiveCount {
  /** The number of its count. */
  readonly number: string;
  readonly store: CountingStore;
  readonly link: CountLink;
}

const counts = new LiveRecords<LiveCount>(({ store }) => store.state().outbox.length > 0);

/** The live count; made anew from the host's state unless something of it is still on its way. */
export function liveCount(client: Client, from: CountState, now: () => number = Date.now): LiveCount {
  return counts.open(client, from.count.id, () => newLiveCount(client, from, now));
}

/** Whether an act of this window was stored between two moments. Presses leave the record: the last one stored tells. */
export function isMoreStored(before: CountingState | undefined, now: CountingState | undefined): boolean {
  return before?.count !== now?.count || before?.storedUpTo !== now?.storedUpTo;
}

function newLiveCount(client: Client, from: CountState, now: () => number): LiveCount {
  const storage = localStorage;
  const store = new CountingStore(openedCount(from));
  const link = new CountLink({ client, store, storage, now });
  // Presses that an earlier window could not store: they follow in their order.
  for (const { act, madeAt } of keptPresses(storage, from.count.id)) {
    store.dispatch({ type: "act", act, madeAt });
  }
  link.start();
  return { number: from.count.number, store, link };
}

const running = new WeakMap<Client, Set<string>>();

/** Counts that this window opened or went on with: their clock runs rightly, and their keys count at once. */
export function markRunningHere(client: Client, countId: string): void {
  const known = running.get(client) ?? new Set<string>();
  running.set(client, known.add(countId));
}

/** False for a count that is marked as running but was left by a crash or by another window. */
export function isRunningHere(client: Client, countId: string): boolean {
  return running.get(client)?.has(countId) ?? false;
}

/** What would not be stored if the window closed now, in words, a count each. */
export function unstoredOfCounts(client: Client): string[] {
  return counts
    .all(client)
    .map(({ number, store }) => ({ number, presses: store.state().outbox.length }))
    .filter(({ presses }) => presses > 0)
    .map(
      ({ number, presses }) =>
        `count ${number}: ${countedNoun(presses, "press on its way", "presses on their way")}`,
    );
}
