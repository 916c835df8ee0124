import { reduceCounting } from "#renderer/screens/count/state/counting-reducer.ts";
import { type CountingState, openedCount } from "#renderer/screens/count/state/counting-state.ts";
import { act, emptyCount } from "./count-fixture.ts";

/** A count of one Pinus, and the same with one Betula more. */
export function announceTestState(): { before: CountingState; after: CountingState } {
  const press = (state: CountingState, key: string) =>
    reduceCounting(state, { type: "act", act: act("press", key), madeAt: 0 });
  const before = press(openedCount(emptyCount()), "pinus");
  return { before, after: press(before, "betula") };
}
