import type { Client } from "#core/contract/calls.ts";
import type { TallyState } from "#core/contract/records/tally.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { openedCount } from "./counting-state.ts";
import { CountingStore } from "./counting-store.ts";
import { keptPresses } from "./press-keeper.ts";
import { TallyLink } from "./tally-link.ts";

/** One count of this window with its link to the host. It outlives its screen while a press is on its way. */
export interface LiveTally {
  /** The number of its count. */
  readonly number: string;
  readonly store: CountingStore;
  readonly link: TallyLink;
}

const kept = new WeakMap<Client, Map<string, LiveTally>>();

function talliesOf(client: Client): Map<string, LiveTally> {
  const known = kept.get(client);
  if (known) return known;
  const made = new Map<string, LiveTally>();
  kept.set(client, made);
  return made;
}

/** The live count; made anew from the host's state unless something of it is still on its way. */
export function liveTally(client: Client, from: TallyState, now: () => number = Date.now): LiveTally {
  const tallies = talliesOf(client);
  const { id } = from.tally;
  const before = tallies.get(id);
  if (before && before.store.state().outbox.length > 0) return before;
  const shelf = localStorage;
  const store = new CountingStore(openedCount(from));
  const link = new TallyLink({ client, store, shelf, now });
  const live = { number: from.tally.number, store, link };
  tallies.set(id, live);
  // Presses that an earlier window could not store: they follow in their order.
  for (const { act, madeAt } of keptPresses(shelf, id)) store.dispatch({ type: "act", act, madeAt });
  link.start();
  return live;
}

const running = new WeakMap<Client, Set<string>>();

/** Counts that this window opened or went on with: their clock runs rightly, and their keys count at once. */
export function markRunningHere(client: Client, tallyId: string): void {
  const known = running.get(client) ?? new Set<string>();
  running.set(client, known.add(tallyId));
}

/** False for a count that is marked as running but was left by a crash or by another window. */
export function isRunningHere(client: Client, tallyId: string): boolean {
  return running.get(client)?.has(tallyId) ?? false;
}

/** What would not be stored if the window closed now, in words, a count each. */
export function unstoredOfCounts(client: Client): string[] {
  return [...talliesOf(client).values()]
    .map(({ number, store }) => ({ number, presses: store.state().outbox.length }))
    .filter(({ presses }) => presses > 0)
    .map(
      ({ number, presses }) =>
        `count ${number}: ${countedNoun(presses, "press on its way", "presses on their way")}`,
    );
}
