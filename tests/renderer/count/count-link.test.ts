// @vitest-environment jsdom
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Client } from "#core/contract/calls.ts";
import type { CountingAct, CountState } from "#core/contract/records/count.ts";
import { CountLink } from "#renderer/screens/count/state/count-link.ts";
import { openedCount } from "#renderer/screens/count/state/counting-state.ts";
import { CountingStore } from "#renderer/screens/count/state/counting-store.ts";
import { keptPresses } from "#renderer/screens/count/state/press-keeper.ts";
import { act, emptyCount, RememberingHost } from "./count-fixture.ts";

type Answer = "ok" | "lost" | "refused" | "lost after doing it";

/** A window with its link to a host whose answers are as listed, then all good. */
function windowWith(answers: readonly Answer[], host = new RememberingHost(), from?: CountState) {
  const left = [...answers];
  const sent: CountingAct[][] = [];
  const client = (async (name: string, input: { acts: CountingAct[] }) => {
    await new Promise((resolve) => setTimeout(resolve, 5));
    if (name === "counts.state") return { ok: true, value: host.state() };
    sent.push(input.acts);
    const answer = left.shift() ?? "ok";
    const lost = { ok: false, error: { code: "host.lost", message: "The program does not answer." } };
    if (answer === "lost") return lost;
    if (answer === "refused") return { ok: false, error: { code: "undo.empty", message: "Nothing left." } };
    const echoes = input.acts.map((one) => host.perform(one));
    return answer === "ok" ? { ok: true, value: echoes } : lost;
  }) as unknown as Client;
  const store = new CountingStore(openedCount(from ?? emptyCount()));
  const link = new CountLink({ client, store, storage: localStorage, now: () => 5000 });
  const press = (one: CountingAct) => store.dispatch({ type: "act", act: one, madeAt: 4000 });
  return { store, link, host, sent, press };
}

beforeEach(() => {
  localStorage.clear();
  vi.useFakeTimers();
});
afterEach(() => vi.useRealTimers());

const order = (host: RememberingHost) => host.events.map(({ category, kind }) => category ?? kind);

describe("the link of a count", () => {
  it("sends in order, one call at a time, and together what has gathered meanwhile", async () => {
    const { press, host, sent, store } = windowWith([]);
    const keys = ["pinus", "betula", "pinus", "marker", "betula"];
    press(act("press", "pinus"));
    // A call is under way while the others are pressed.
    await vi.advanceTimersByTimeAsync(1);
    for (const key of keys.slice(1)) press(act("press", key));
    await vi.runAllTimersAsync();
    expect(order(host)).toEqual(keys);
    expect(sent.map((acts) => acts.length)).toEqual([1, 4]);
    expect(sent[0]?.[0]?.waitedMs).toBe(1000);
    expect(store.state().outbox).toEqual([]);
    expect(keptPresses(localStorage, "t-1")).toEqual([]);
  });

  it("tries again with the same ids when the host is lost, and takes each press once", async () => {
    const { press, host, store } = windowWith(["lost", "lost after doing it", "lost"]);
    for (const key of ["pinus", "betula", "marker"]) press(act("press", key));
    await vi.advanceTimersByTimeAsync(20);
    expect(store.state().hostLost).toBe(true);
    press(act("undo"));
    expect(keptPresses(localStorage, "t-1")).toHaveLength(4);
    await vi.runAllTimersAsync();
    expect(order(host)).toEqual(["pinus", "betula", "marker", "undo"]);
    expect(store.state()).toMatchObject({ hostLost: false, outbox: [] });
  });

  it("finds the one that is refused among several, says why, and keeps the others", async () => {
    const { press, host, store, sent } = windowWith(["ok", "refused", "ok", "refused", "ok"]);
    press(act("press", "pinus"));
    await vi.advanceTimersByTimeAsync(1);
    for (const key of ["betula", "marker", "pinus"]) press(act("press", key));
    await vi.runAllTimersAsync();
    expect(sent.map((acts) => acts.length)).toEqual([1, 3, 1, 1, 1]);
    expect(order(host)).toEqual(["pinus", "betula", "pinus"]);
    expect(store.state().remark?.text).toBe("Nothing left.");
    expect(store.state().sums.thousandths).toEqual({ pinus: 2000, betula: 1000 });
  });

  it("takes the host's state when a field goes that this window did not know of", async () => {
    const host = new RememberingHost();
    host.perform(act("press", "pinus"));
    host.perform(act("field"));
    const from = host.state(0);
    const { press, store } = windowWith([], host, from);
    press(act("undo"));
    press(act("press", "betula"));
    await vi.runAllTimersAsync();
    expect(store.state().fields.map(({ thousandths }) => thousandths)).toEqual([
      { pinus: 1000, betula: 1000 },
    ]);
    expect(store.state().unknownUndos).toBe(0);
  });
});
