import { describe, expect, it, vi } from "vitest";
import type { Client } from "#core/contract/calls.ts";
import { LiveRecords } from "#renderer/live/live-records.ts";
import { LiveStore } from "#renderer/live/live-store.ts";

type Action = { readonly add: number; readonly send?: string };

function counting() {
  return new LiveStore<number, Action, string>(0, (state, { add, send }) => ({
    state: state + add,
    effects: send === undefined ? [] : [send],
  }));
}

describe("the live state of a record", () => {
  it("tells of a change before its effects are done, and of nothing that changed nothing", () => {
    const store = counting();
    const told: string[] = [];
    const stop = store.subscribe(() => told.push(`state ${store.state()}`));
    store.onEffect = (effect) => told.push(effect);
    store.dispatch({ add: 2, send: "sent" });
    store.dispatch({ add: 0 });
    store.dispatch({ add: 0, send: "asked" });
    stop();
    store.dispatch({ add: 1 });
    expect(told).toEqual(["state 2", "sent", "asked"]);
  });

  it("waits until the state is as wanted, once", async () => {
    const store = counting();
    const reached = vi.fn();
    const waiting = store.until((state) => state >= 2).then(reached);
    store.dispatch({ add: 1 });
    await Promise.resolve();
    expect(reached).not.toHaveBeenCalled();
    store.dispatch({ add: 1 });
    await waiting;
    expect(reached).toHaveBeenCalledTimes(1);
    await store.until((state) => state === 2);
  });
});

describe("the records at work in a window", () => {
  it("are gone on with while something waits, and made anew otherwise; windows have their own", () => {
    const records = new LiveRecords<{ made: number; waits: boolean }>(({ waits }) => waits);
    const client = (() => undefined) as unknown as Client;
    let made = 0;
    const make = () => {
      made += 1;
      return { made, waits: false };
    };
    const first = records.open(client, "s-1", make);
    first.waits = true;
    expect(records.open(client, "s-1", make)).toBe(first);
    first.waits = false;
    expect(records.open(client, "s-1", make).made).toBe(2);
    records.open(client, "s-2", make);
    expect(records.all(client).map((one) => one.made)).toEqual([2, 3]);
    expect(records.all((() => undefined) as unknown as Client)).toEqual([]);
  });
});
