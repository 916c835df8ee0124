import { describe, expect, it, vi } from "vitest";
import type { CallName, Client } from "#core/contract/calls.ts";
import { changedBy, restsOn } from "#core/contract/calls.ts";
import { CallCache } from "#renderer/bridge/call-cache.ts";
import { ChangesElsewhere } from "#renderer/bridge/changes-elsewhere.ts";

/** A host whose answers come when the test says so. */
function slowHost() {
  const asked: { name: string; answer: (reply: unknown) => void }[] = [];
  const client = ((name: string) =>
    new Promise((answer) => asked.push({ name, answer }))) as unknown as Client;
  const cache = new CallCache();
  cache.use(client);
  return { asked, cache };
}
const settled = () => new Promise((resolve) => setTimeout(resolve, 0));

describe("reads kept for the screens", () => {
  it("fetches once for all that ask the same", async () => {
    const { asked, cache } = slowHost();
    const listener = vi.fn();
    cache.subscribe("people.list", {}, listener);
    cache.subscribe("people.list", {}, listener);
    expect(asked).toHaveLength(1);
    expect(cache.read("people.list", {})).toEqual({ data: undefined, error: undefined, busy: true });
    asked[0]?.answer({ ok: true, value: [] });
    await settled();
    expect(cache.read("people.list", {})).toEqual({ data: [], error: undefined, busy: false });
  });

  it("keeps calls with different input apart", () => {
    const { asked, cache } = slowHost();
    cache.subscribe("methods.get", { methodId: "a" }, () => undefined);
    cache.subscribe("methods.get", { methodId: "b" }, () => undefined);
    expect(asked).toHaveLength(2);
  });

  it("keeps the last good answer through a refusal, and asks again for the next screen", async () => {
    const { asked, cache } = slowHost();
    const leave = cache.subscribe("people.list", {}, () => undefined);
    asked[0]?.answer({ ok: true, value: ["kept"] });
    await settled();
    cache.reload("people.list", {});
    asked[1]?.answer({ ok: false, error: { code: "host.lost", message: "gone" } });
    await settled();
    expect(cache.read("people.list", {})).toMatchObject({ data: ["kept"], error: { code: "host.lost" } });
    leave();
    cache.subscribe("people.list", {}, () => undefined);
    expect(asked).toHaveLength(3);
  });

  it("drops the answer of an older fetch that comes late", async () => {
    const { asked, cache } = slowHost();
    cache.subscribe("people.list", {}, () => undefined);
    cache.reload("people.list", {});
    asked[1]?.answer({ ok: true, value: ["new"] });
    asked[0]?.answer({ ok: true, value: ["old"] });
    await settled();
    expect(cache.read("people.list", {}).data).toEqual(["new"]);
  });

  it("asks again for everything on screen once the day has changed", async () => {
    vi.useFakeTimers({ now: new Date(2026, 10, 30, 23, 59), toFake: ["Date"] });
    const asked: string[] = [];
    const client = (async (name: string) => {
      asked.push(name);
      return { ok: true, value: name === "bench.changes" ? { now: "1", changed: [] } : [] };
    }) as unknown as Client;
    const cache = new CallCache();
    cache.use(client);
    const elsewhere = new ChangesElsewhere(client, cache);
    cache.subscribe("overdueUses.of", { work: "sheet", workId: "s-1" }, () => undefined);
    await elsewhere.look();
    expect(asked).toEqual(["overdueUses.of", "bench.changes"]);
    vi.setSystemTime(new Date(2026, 11, 1, 0, 1));
    await elsewhere.look();
    await elsewhere.look();
    expect(asked.slice(2)).toEqual(["bench.changes", "overdueUses.of", "bench.changes"]);
    vi.useRealTimers();
  });

  it("fetches again what an act changed, if it is on screen, and else when it is next asked for", async () => {
    const { asked, cache } = slowHost();
    const leave = cache.subscribe("people.list", {}, () => undefined);
    cache.subscribe("methods.list", {}, () => undefined);
    for (const one of asked) one.answer({ ok: true, value: [] });
    await settled();
    cache.changed(["people"]);
    expect(asked.map((one) => one.name)).toEqual(["people.list", "methods.list", "people.list"]);
    asked[2]?.answer({ ok: true, value: [] });
    await settled();
    leave();
    cache.changed(["people"]);
    expect(asked).toHaveLength(3);
    cache.subscribe("people.list", {}, () => undefined);
    expect(asked).toHaveLength(4);
  });
});

describe("what is true of the contract's tags for the screens", () => {
  const isStale = (act: CallName, read: CallName) =>
    restsOn(read).some((tag) => changedBy(act).includes(tag));

  it.each([
    ["people.register", ["people.list", "bench.status", "trail.page"]],
    ["people.choose", ["bench.status"]],
    ["certificates.register", ["micrometers.list", "bench.overview"]],
    ["calibrations.putInForce", ["calibrations.list", "calibrations.get", "bench.overview"]],
    ["rows.enter", ["reports.sheet", "rows.page", "sheets.list"]],
    ["sheets.close", ["reports.sheet", "sheets.states"]],
    ["counts.press", ["counts.list"]],
    ["backups.make", ["backups.list"]],
  ] as const)("%s is seen in %j", (act, reads) => {
    for (const read of reads) expect(isStale(act, read), read).toBe(true);
  });

  it("a key of the counting hand fetches nothing that stands beside it on the screen", () => {
    for (const read of ["bench.overview", "bench.status", "methods.list", "sheets.list"] as const) {
      expect(isStale("counts.pressMany", read), read).toBe(false);
    }
  });
});

describe("what others have changed", () => {
  const now = { run: "run-1", count: 4 };

  it("is asked for since the last answer, and fetched again where it shows", async () => {
    const { asked, cache } = slowHost();
    const client = vi.fn<(name: string, input: unknown) => Promise<unknown>>(() =>
      Promise.resolve({ ok: true, value: { now, changed: ["people"] } }),
    );
    cache.subscribe("people.list", {}, () => undefined);
    cache.subscribe("methods.list", {}, () => undefined);
    const elsewhere = new ChangesElsewhere(client as unknown as Client, cache);
    await elsewhere.look();
    await elsewhere.look();
    expect(client.mock.calls).toEqual([
      ["bench.changes", { since: null }],
      ["bench.changes", { since: now }],
    ]);
    expect(asked.map((one) => one.name)).toEqual([
      "people.list",
      "methods.list",
      "people.list",
      "people.list",
    ]);
  });

  it("is asked once at a time", async () => {
    const { cache, asked } = slowHost();
    const client = ((name: string) =>
      new Promise((answer) => asked.push({ name, answer }))) as unknown as Client;
    const elsewhere = new ChangesElsewhere(client, cache);
    const both = [elsewhere.look(), elsewhere.look()];
    expect(asked).toHaveLength(1);
    asked[0]?.answer({ ok: false, error: { code: "host.lost", message: "gone" } });
    await Promise.all(both);
    void elsewhere.look();
    expect(asked).toHaveLength(2);
  });
});
