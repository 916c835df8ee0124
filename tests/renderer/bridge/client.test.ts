// @vitest-environment jsdom
import { describe, expect, it, vi } from "vitest";
import { WINDOW_SESSION } from "#core/contract/window-session.ts";
import { createClient, RETRY_WAITS } from "#renderer/bridge/client.ts";
import { electronBridge } from "#renderer/bridge/electron-bridge.ts";
import { loopbackTransport } from "#renderer/bridge/loopback-transport.ts";
import { transportOver } from "#renderer/bridge/transport.ts";

const PERSON = { requestId: "11111111-aaaa", person: { name: "Ada", initials: "A", interpupillaryMm: "" } };
const ANSWER = { ok: true, value: { id: "p-1" } };
const noWait = () => Promise.resolve();

describe("the client", () => {
  it("hands the reply of the host through, refusals too", async () => {
    const refusal = { ok: false, error: { code: "person.taken", message: "Taken." } };
    const client = createClient(async () => refusal);
    await expect(client("people.register", PERSON)).resolves.toEqual(refusal);
  });

  it("sends the same request again, with the same id, until the host answers", async () => {
    const seen: unknown[] = [];
    const waits: number[] = [];
    const client = createClient(
      async (name, input) => {
        seen.push([name, input]);
        if (seen.length < 3) throw new TypeError("Failed to fetch");
        return ANSWER;
      },
      { wait: async (milliseconds) => void waits.push(milliseconds) },
    );
    await expect(client("people.register", PERSON)).resolves.toEqual(ANSWER);
    expect(seen).toEqual([1, 2, 3].map(() => ["people.register", PERSON]));
    expect(waits).toEqual(RETRY_WAITS.slice(0, 2));
  });

  it.each([
    ["the transport rejects", () => Promise.reject(new Error("gone"))],
    ["the answer is no reply", () => Promise.resolve("<html>")],
    ["the answer is null", () => Promise.resolve(null)],
    [
      "the transport says that the host is lost",
      () => Promise.resolve({ ok: false, error: { code: "host.lost", message: "gone" } }),
    ],
  ])("answers host.lost, and does not reject, when %s to the end", async (_, transport) => {
    const send = vi.fn(transport);
    const reply = await createClient(send, { wait: noWait })("bench.status", {});
    expect(send).toHaveBeenCalledTimes(RETRY_WAITS.length + 1);
    expect(reply).toMatchObject({ ok: false, error: { code: "host.lost" } });
  });

  it("tells of acknowledged calls only", async () => {
    const done = vi.fn();
    const options = { waits: [], onDone: done };
    await createClient(async () => ANSWER, options)("people.choose", { personId: "p-1" });
    await createClient(async () => Promise.reject(new Error("gone")), options)("bench.status", {});
    await createClient(async () => ({ ok: false, error: { code: "x", message: "" } }), options)(
      "bench.status",
      {},
    );
    expect(done.mock.calls).toEqual([["people.choose"]]);
  });
});

const KEPT = { getItem: (key: string) => (key === WINDOW_SESSION.storageKey ? "secret" : null) };

describe("the loopback transport", () => {
  it("posts the input as JSON to its own origin and gives the answer", async () => {
    const send = vi.fn(async () => new Response(JSON.stringify(ANSWER)));
    await expect(loopbackTransport(send, KEPT)("people.register", PERSON)).resolves.toEqual(ANSWER);
    const [address, init] = send.mock.calls[0] as unknown as [string, RequestInit];
    expect(address).toBe("/call/people.register");
    expect(init).toMatchObject({ method: "POST", body: JSON.stringify(PERSON), credentials: "omit" });
    expect(init.headers).toEqual({ "content-type": "application/json", [WINDOW_SESSION.header]: "secret" });
  });

  it("rejects when the network does, and when the answer is not JSON", async () => {
    const lost = loopbackTransport(() => Promise.reject(new TypeError("Failed to fetch")), KEPT);
    await expect(lost("bench.status", {})).rejects.toThrow(TypeError);
    const page = loopbackTransport(async () => new Response("<html>"), KEPT);
    await expect(page("bench.status", {})).rejects.toThrow(SyntaxError);
  });
});

describe("the Electron transport", () => {
  it("calls what the preload script put on the window, in text", async () => {
    const call = vi.fn(async () => JSON.stringify(ANSWER));
    const bridge = electronBridge({ linefall: { host: "electron", call } });
    await expect(bridge && transportOver(bridge.call)("people.register", PERSON)).resolves.toEqual(ANSWER);
    expect(call).toHaveBeenCalledWith("people.register", JSON.stringify(PERSON));
  });

  it("is absent without the preload script, even when an element of the page has that name", () => {
    expect(electronBridge({})).toBeNull();
    expect(electronBridge({ linefall: document.createElement("div") })).toBeNull();
    expect(electronBridge({ linefall: undefined })).toBeNull();
  });
});
