import { describe, expect, it, vi } from "vitest";
import type { CallName, Client } from "#core/contract/calls.ts";
import { calls, isCallName } from "#core/contract/calls.ts";
import { CallCache } from "#renderer/bridge/call-cache.ts";
import { outOfDateAfter } from "#renderer/bridge/what-changes.ts";

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

  it("fetches again what an act changed, if it is on screen, and else when it is next asked for", async () => {
    const { asked, cache } = slowHost();
    const leave = cache.subscribe("people.list", {}, () => undefined);
    cache.subscribe("methods.list", {}, () => undefined);
    for (const one of asked) one.answer({ ok: true, value: [] });
    await settled();
    cache.afterCall("people.register");
    expect(asked.map((one) => one.name)).toEqual(["people.list", "methods.list", "people.list"]);
    asked[2]?.answer({ ok: true, value: [] });
    await settled();
    leave();
    cache.afterCall("people.register");
    expect(asked).toHaveLength(3);
    cache.subscribe("people.list", {}, () => undefined);
    expect(asked).toHaveLength(4);
  });
});

describe("what an act changes", () => {
  const writes = Object.entries(calls).filter(([, definition]) => definition.kind === "write");

  it.each(writes.map(([name]) => name))("%s puts reads out of date, never an act", (name) => {
    if (!isCallName(name)) throw new Error(`${name} is no call`);
    for (const read of outOfDateAfter(name)) expect(calls[read].kind, read).toBe("read");
  });

  it.each([
    ["people.register", ["people.list", "bench.status"]],
    ["people.choose", ["bench.status"]],
    ["microscopes.addObjective", ["microscopes.list", "bench.overview"]],
    ["certificates.register", ["micrometers.list", "bench.overview"]],
    ["calibrations.putInForce", ["calibrations.list", "calibrations.get", "bench.overview"]],
    ["methods.define", ["methods.list"]],
    ["sheets.open", ["sheets.list", "bench.overview"]],
  ] as const)("%s is seen in %j and in the audit trail", (act, reads) => {
    expect(outOfDateAfter(act)).toEqual(expect.arrayContaining([...reads, "trail.page"]));
  });

  it("is nothing after a read, but for a backup", () => {
    expect(outOfDateAfter("bench.overview")).toEqual([]);
    expect(outOfDateAfter("backups.make")).toEqual(["backups.list"]);
  });

  it("leaves the rows of the entry grid alone, which keeps its own", () => {
    for (const [name] of writes.filter(([one]) => one.startsWith("rows."))) {
      const changed = outOfDateAfter(name as CallName);
      expect(
        changed.filter((read) => read === "rows.page" || read === "sheets.get"),
        name,
      ).toEqual([]);
    }
  });
});
